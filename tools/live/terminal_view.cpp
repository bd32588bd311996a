#include "terminal_view.hpp"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "pulsewright/live_screen.hpp"
// Last: it defines short words as macros.
#define NCURSES_NOMACROS
#include <curses.h>

namespace pulsewright::program {
namespace {

using Clock = std::chrono::steady_clock;
constexpr auto redraw_every = std::chrono::milliseconds{100};
constexpr std::size_t longest_typed = 60;

class TerminalView final : public LiveView {
 public:
  TerminalView(FILE* keys, SCREEN* screen) : keys_(keys), screen_(screen) {
    ::cbreak();
    ::noecho();
    ::curs_set(0);
    ::nodelay(stdscr, TRUE);
    ::keypad(stdscr, TRUE);
  }
  ~TerminalView() override {
    ::endwin();
    ::delscreen(screen_);
    std::fclose(keys_);
  }
  TerminalView(const TerminalView&) = delete;
  TerminalView& operator=(const TerminalView&) = delete;

  void event(const LivePerson&, const LiveEvent&, const LiveMoment&) override {}
  void packet(const LivePerson& person, const HeartRatePacket& packet) override {
    notes_.push_back(person.code() + ": the belt says " + std::to_string(packet.bpm) + " beats/min");
  }
  void note(const LivePerson* person, const LiveNote& note, const LiveMoment&) override {
    notes_.push_back((person != nullptr ? person->code() + ": " : "") + note.message);
  }

  std::optional<std::string> draw(const std::vector<LivePerson>& people, const LiveMoment& moment) override {
    const std::optional<std::string> line = take_keys();
    if (Clock::now() - drawn_ < redraw_every && !line) return line;
    drawn_ = Clock::now();
    if (notes_.size() > most_notes) notes_.erase(notes_.begin(), notes_.end() - most_notes);
    LiveScreen screen;
    screen.elapsed = moment.elapsed;
    screen.phase = moment.phase;
    screen.prompt = moment.prompt;
    screen.notes = notes_;
    screen.typed = typed_;
    for (const LivePerson& person : people) screen.people.push_back(person.glance(people.size() == 1));
    int rows = 0, columns = 0;
    getmaxyx(stdscr, rows, columns);
    ::werase(stdscr);
    const auto lines = live_screen(screen, static_cast<std::size_t>(std::max(columns, 0)),
                                   static_cast<std::size_t>(std::max(rows, 0)));
    for (std::size_t r = 0; r < lines.size(); ++r) ::mvwaddstr(stdscr, static_cast<int>(r), 0, lines[r].c_str());
    ::wrefresh(stdscr);
    return line;
  }

 private:
  static constexpr std::ptrdiff_t most_notes = 20;

  std::optional<std::string> take_keys() {
    for (int key = ::wgetch(stdscr); key != ERR; key = ::wgetch(stdscr)) {
      if (key == '\n' || key == '\r' || key == KEY_ENTER) return std::exchange(typed_, {});
      if (key == KEY_BACKSPACE || key == 127 || key == '\b') {
        if (!typed_.empty()) typed_.pop_back();
      } else if (key >= 0x20 && key < 0x7F && typed_.size() < longest_typed) {
        typed_ += static_cast<char>(key);
      }
    }
    return std::nullopt;
  }

  FILE* keys_;
  SCREEN* screen_;
  std::vector<std::string> notes_;
  std::string typed_;
  Clock::time_point drawn_;
};

}  // namespace

std::unique_ptr<LiveView> live_terminal_view() {
  if (::isatty(STDOUT_FILENO) != 1) return nullptr;
  // Standard input may be the wire; keys come from the terminal itself.
  FILE* keys = std::fopen("/dev/tty", "r");
  if (keys == nullptr) return nullptr;
  SCREEN* screen = ::newterm(nullptr, stdout, keys);
  if (screen == nullptr) {
    std::fclose(keys);
    return nullptr;
  }
  return std::make_unique<TerminalView>(keys, screen);
}

}  // namespace pulsewright::program
