#include <fmt/format.h>

#include <poll.h>
#include <unistd.h>

#include <array>

#include "live_view.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/report.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

using Object = Json;

Object number(std::optional<double> value, int decimals) {
  const std::string text = format_number(value, decimals);
  return text.empty() ? Object(nullptr) : Object::parse(text);
}

std::optional<double> bpm(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional{rate->value()} : std::nullopt;
}

std::optional<double> reserve(const LivePerson& person, const RateWindow& window) {
  return window.rate ? person.standing().reserve_percent(*window.rate) : std::nullopt;
}

/// Whole lines on standard input, as they come.
class TypedLines {
 public:
  explicit TypedLines(bool wanted) : wanted_(wanted) {}
  std::optional<std::string> next() {
    pollfd input{STDIN_FILENO, POLLIN, 0};
    while (wanted_ && held_.find('\n') == std::string::npos && ::poll(&input, 1, 0) == 1) {
      std::array<char, 256> buffer{};
      const ssize_t count = ::read(STDIN_FILENO, buffer.data(), buffer.size());
      if (count <= 0)
        wanted_ = false;
      else
        held_.append(buffer.data(), static_cast<std::size_t>(count));
    }
    const std::size_t end = held_.find('\n');
    if (end == std::string::npos) return std::nullopt;
    std::string line = held_.substr(0, end);
    held_.erase(0, end + 1);
    return line;
  }

 private:
  bool wanted_;
  std::string held_;
};

class LinesView final : public LiveView {
 public:
  explicit LinesView(bool keys) : keys_(keys) {}

  void event(const LivePerson& person, const LiveEvent& event, const LiveMoment& moment) override {
    Object line;
    line["event"] = event.second ? "second" : "beat";
    line["code"] = person.code();
    if (event.second) {
      const RateWindow& window = event.second->window;
      line["at_s"] = number(event.second->at.value(), 0);
      line["bpm"] = number(bpm(window.rate), 2);
      line["low_bpm"] = number(bpm(window.low), 2);
      line["high_bpm"] = number(bpm(window.high), 2);
      line["confidence"] = number(window.confidence, 3);
      line["reserve_percent"] = number(reserve(person, window), 1);
      line["target"] = to_string(window.rate ? person.standing().state_of(*window.rate) : TargetState::unknown);
      line["signal"] = to_string(event.second->advice);
      if (!moment.phase.empty()) line["phase"] = moment.phase;
    } else {
      line["time_s"] = number(event.beat.time.value(), 6);
      line["confidence"] = number(event.beat.confidence, 3);
    }
    print(line.dump() + "\n");
  }

  void packet(const LivePerson& person, const HeartRatePacket& packet) override {
    Object line;
    line["event"] = "packet";
    line["code"] = person.code();
    line["bpm"] = packet.bpm;
    line["contact"] = packet.contact ? Object(*packet.contact) : Object(nullptr);
    line["energy_kj"] = packet.energy_kj ? Object(*packet.energy_kj) : Object(nullptr);
    line["rr_ms"] = Object::array();
    for (const Seconds rr : packet.rr) line["rr_ms"].push_back(number(1000.0 * rr.value(), 3));
    print(line.dump() + "\n");
  }

  void note(const LivePerson* person, const LiveNote& note, const LiveMoment& moment) override {
    Object line;
    line["event"] = "note";
    line["code"] = person != nullptr ? Object(person->code()) : Object(nullptr);
    line["elapsed_s"] = number(moment.elapsed.value(), 1);
    line["note"] = note.code;
    line["message"] = note.message;
    print(line.dump() + "\n");
  }

  std::optional<std::string> draw(const std::vector<LivePerson>&, const LiveMoment&) override { return keys_.next(); }

 private:
  TypedLines keys_;
};

class TextView final : public LiveView {
 public:
  explicit TextView(bool keys) : keys_(keys) {}

  void event(const LivePerson& person, const LiveEvent& event, const LiveMoment& moment) override {
    if (!event.second) return;
    const LiveSecond& second = *event.second;
    std::string line = fmt::format("{:>7}  {:<10} ", format_clock(second.at), person.code());
    if (second.window.rate) {
      line += fmt::format("{:>3} beats/min ({} to {})", whole_beats(*second.window.rate),
                          whole_beats(*second.window.low), whole_beats(*second.window.high));
      if (const TargetState state = person.standing().state_of(*second.window.rate); state != TargetState::unknown)
        line +=
            fmt::format(", {} target{}", to_string(state), person.standing().sure_of(second.window) ? "" : " (about)");
      if (const auto share = reserve(person, second.window)) line += fmt::format(", {:.0f} % of reserve", *share);
    } else {
      line += " no rate";
    }
    line += fmt::format("; {}", advice_text(second.advice, person.kind()));
    if (!moment.phase.empty()) line += "; " + moment.phase;
    print(line + "\n");
  }

  void packet(const LivePerson& person, const HeartRatePacket& packet) override {
    std::string line = fmt::format("{:<10} {:>3} beats/min, as the belt says", person.code(), packet.bpm);
    if (packet.contact) line += *packet.contact ? ", on the skin" : ", not on the skin";
    for (const Seconds rr : packet.rr) line += fmt::format("; {:.0f} ms", 1000.0 * rr.value());
    print(line + "\n");
  }

  void note(const LivePerson* person, const LiveNote& note, const LiveMoment& moment) override {
    print(fmt::format("{:>7}  {:<10} * {}\n", format_clock(moment.elapsed), person != nullptr ? person->code() : "",
                      note.message));
  }

  std::optional<std::string> draw(const std::vector<LivePerson>&, const LiveMoment&) override { return keys_.next(); }

 private:
  TypedLines keys_;
};

}  // namespace

std::unique_ptr<LiveView> live_text_view(bool keys) { return std::make_unique<TextView>(keys); }
std::unique_ptr<LiveView> live_lines_view(bool keys) { return std::make_unique<LinesView>(keys); }

}  // namespace pulsewright::program
