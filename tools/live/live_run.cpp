#include "live_run.hpp"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <utility>

#include "input_thread.hpp"
#include "pulsewright/live_closing.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"
#include "wall_clock.hpp"

namespace pulsewright::program {
namespace {

constexpr int patience_ms = 50;
constexpr std::int64_t project_every_us = 500'000;

volatile std::sig_atomic_t interrupted = 0;

void on_signal(int) { interrupted = 1; }

class Run {
 public:
  explicit Run(LiveRunSetup setup) : setup_(std::move(setup)) {
    for (LivePersonSetup& person : setup_.people) people_.emplace_back(std::move(person));
    if (setup_.record) open_files(*setup_.record);
    if (setup_.projector) {
      projector_ = std::make_unique<Projector>(*setup_.projector);
      setup_.view->note(nullptr, {"serving", "the page for the wall: " + projector_->url()}, moment_);
    }
    if (setup_.lesson) lesson_.emplace(*setup_.lesson, people_.size());
  }

  ExitCode go() {
    std::signal(SIGINT, on_signal);
    std::signal(SIGTERM, on_signal);
    {
      InputThread input{std::move(setup_.sources)};
      while (!over()) {
        for (const Arrival& arrival : input.take(patience_ms)) {
          LivePerson& person = people_[arrival.source];
          person.take(arrival, events_);
          tell(person);
        }
        const std::int64_t now = input.now_us();
        moment_.elapsed = Seconds{static_cast<double>(now) / 1e6};
        for (LivePerson& person : people_) {
          person.look(now);
          tell(person);
        }
        if (lesson_) guide(now);
        if (projector_ && now - projected_us_ >= project_every_us) {
          projected_us_ = now;
          projector_->show(
              projector_state(people_, moment_, lesson_ ? &*lesson_ : nullptr, setup_.projector->left_out));
        }
        const auto typed = setup_.view->draw(people_, moment_);
        if (typed == "q") break;
        if (typed && lesson_ && !typed->empty()) say(lesson_->typed(*typed, people_));
      }
    }
    projector_.reset();
    for (LivePerson& person : people_) {
      person.finish(events_);
      tell(person);
    }
    setup_.view.reset();  // a screen gives the terminal back
    return close();
  }

 private:
  void open_files(const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    std::string sheet = "code,file\n";
    const std::string begun = utc_now();
    for (LivePerson& person : people_) {
      const std::string name = person.code() + ".csv";
      person.file = std::make_unique<SensorFile>(folder / name, person.kind(), person.code(), begun);
      sheet += person.code() + "," + name + "\n";
    }
    write_file(folder / "sheet.csv", sheet);
  }

  [[nodiscard]] bool over() const {
    if (interrupted != 0) return true;
    if (lesson_ && lesson_->over() && moment_.elapsed > lesson_over_) return true;
    if (setup_.length && moment_.elapsed >= *setup_.length) return true;
    return std::all_of(people_.begin(), people_.end(), [](const LivePerson& p) { return p.ended(); });
  }

  void say(const LessonWord& word) {
    setup_.view->note(word.person ? &people_[*word.person] : nullptr, word.note, moment_);
  }

  void guide(std::int64_t now_us) {
    const bool was_over = lesson_->over();
    for (const LessonWord& word : lesson_->advance(people_, now_us)) say(word);
    moment_.phase = lesson_->phase();
    moment_.prompt = lesson_->prompt();
    // What was the last to be counted may still be typed in.
    if (lesson_->over() && !was_over) lesson_over_ = moment_.elapsed + Seconds{30.0};
  }

  void tell(LivePerson& person) {
    for (const LiveNote& note : person.take_notes()) {
      any_fault_ = any_fault_ || note.code == "not_recorded";
      setup_.view->note(&person, note, moment_);
    }
    for (const LiveEvent& event : events_) {
      any_rate_ = any_rate_ || (event.second && event.second->window.rate);
      if (lesson_) lesson_->take(static_cast<std::size_t>(&person - people_.data()), event);
      setup_.view->event(person, event, moment_);
    }
    events_.clear();
    for (const HeartRatePacket& packet : person.take_packets()) {
      any_rate_ = any_rate_ || packet.bpm > 0;
      setup_.view->packet(person, packet);
    }
  }

  /// What the whole-file form makes of what was kept.
  ExitCode close() {
    if (lesson_ && setup_.record) lesson_->write_marks(*setup_.record, people_);
    for (LivePerson& person : people_) {
      if (!person.file) continue;
      const std::filesystem::path path = person.file->path();
      person.file->close();
      try {
        const LiveClosing closing = close_live_run(read_recording(path), person.standing().person(), setup_.closing);
        talk_text(live_closing_text(closing, person.code() + ", " + path.string()));
      } catch (const Error& error) {
        talk_error(error.what());
        any_fault_ = true;
      }
    }
    if (any_fault_) return ExitCode::unreadable;
    return any_rate_ ? ExitCode::done : ExitCode::no_value;
  }

  LiveRunSetup setup_;
  std::vector<LivePerson> people_;
  std::vector<LiveEvent> events_;
  LiveMoment moment_;
  std::optional<LiveLesson> lesson_;
  Seconds lesson_over_{0};
  std::unique_ptr<Projector> projector_;
  std::int64_t projected_us_ = 0;
  bool any_rate_ = false, any_fault_ = false;
};

}  // namespace

ExitCode run_live(LiveRunSetup setup) { return Run{std::move(setup)}.go(); }

}  // namespace pulsewright::program
