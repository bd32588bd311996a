#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "pulsewright/batch.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright {
namespace {

template <typename Value, std::size_t count>
using Words = std::array<std::pair<const char*, Value>, count>;

constexpr Words<KindChoice, 3> kinds{
    {{"auto", KindChoice::automatic}, {"ecg", KindChoice::ecg}, {"pulse", KindChoice::pulse}}};
constexpr Words<InputForm, 3> forms{
    {{"recording", InputForm::recording}, {"intervals", InputForm::intervals}, {"beats", InputForm::beats}}};
constexpr Words<IntervalUnit, 2> units{{{"ms", IntervalUnit::milliseconds}, {"s", IntervalUnit::seconds}}};
constexpr std::array sexes{Sex::unstated, Sex::female, Sex::male};
constexpr std::array exercises{Exercise::legs, Exercise::arms, Exercise::wheelchair};

/// Words of a type that has them itself.
template <typename Value, std::size_t count>
Words<Value, count> words_of(const std::array<Value, count>& values) {
  Words<Value, count> words;
  for (std::size_t k = 0; k < count; ++k) words[k] = {to_string(values[k]), values[k]};
  return words;
}

template <typename Value, std::size_t count>
const char* word_of(const Words<Value, count>& words, Value value) {
  for (const auto& [word, meaning] : words)
    if (meaning == value) return word;
  return words.front().first;
}

/// Takes options out of a JSON object; each complaint names its key.
class OptionReader {
 public:
  explicit OptionReader(Json object) : object_(std::move(object)) {}

  /// A number inside [low, high], where the key is there.
  template <typename Take>
  void number(const char* key, double low, double high, const Take& take) {
    const Json* value = find(key);
    if (!value) return;
    if (!value->is_number() || !(low <= value->get<double>() && value->get<double>() <= high))
      refuse(key, *value, "is no number from " + Json(low).dump() + " to " + Json(high).dump());
    take(value->get<double>());
  }

  template <typename Value, std::size_t count>
  void word(const char* key, const Words<Value, count>& words, Value& into) {
    const Json* value = find(key);
    if (!value) return;
    std::string known;
    for (const auto& [word, meaning] : words) {
      if (value->is_string() && value->get<std::string>() == word) {
        into = meaning;
        return;
      }
      known += (known.empty() ? "" : ", ") + std::string(word);
    }
    refuse(key, *value, "is none of " + known);
  }

  void text(const char* key, std::string& into) {
    const Json* value = find(key);
    if (!value) return;
    if (!value->is_string()) refuse(key, *value, "is no text");
    into = value->get<std::string>();
  }

  void flag(const char* key, bool& into) {
    const Json* value = find(key);
    if (!value) return;
    if (!value->is_boolean()) refuse(key, *value, "is neither true nor false");
    into = value->get<bool>();
  }

  void names(const char* key, std::vector<std::string>& into) {
    const Json* value = find(key);
    if (!value) return;
    std::vector<std::string> all;
    if (value->is_string()) all.push_back(value->get<std::string>());
    for (const Json& item : value->is_array() ? *value : Json::array()) {
      if (!item.is_string()) refuse(key, item, "is no name");
      all.push_back(item.get<std::string>());
    }
    if (!value->is_string() && !value->is_array()) refuse(key, *value, "is no list of names");
    into = std::move(all);
  }

  /// After everything that is known was taken.
  void refuse_the_rest() const {
    for (const auto& [key, value] : object_.items())
      if (std::find(taken_.begin(), taken_.end(), key) == taken_.end()) refuse(key, value, "is no option that we know");
  }

 private:
  const Json* find(const char* key) {
    taken_.emplace_back(key);
    const auto found = object_.find(key);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
  }

  [[noreturn]] static void refuse(const std::string& key, const Json& value, const std::string& rule) {
    throw Error(ErrorCode::usage, "option " + key + ": " + value.dump() + " " + rule);
  }

  Json object_;
  std::vector<std::string> taken_;
};

// What a rate of a person may be, in beats/min: far beyond anyone's, close enough to catch a slip of the fingers.
constexpr double lowest_resting = 25, highest_resting = 150;
constexpr double lowest_maximum = 60, highest_maximum = 250;
// Windows, in seconds.
constexpr double shortest_window = 0.1, longest_window = 3600;
constexpr double highest_rate = 1e6;       // Hz
constexpr double longest_recording = 1e9;  // s

void take_reading(OptionReader& options, Request& request) {
  options.number("rate_hz", 1e-6, highest_rate, [&](double v) { request.read.rate = Hertz{v}; });
  options.number("start_s", 0, longest_recording, [&](double v) { request.read.start = Seconds{v}; });
  options.number("end_s", 1e-6, longest_recording, [&](double v) { request.read.end = Seconds{v}; });
  options.names("channels", request.channels);
  options.word("kind", kinds, request.kind);
  std::vector<std::string> motion{"auto"};
  options.names("motion", motion);
  if (motion == std::vector<std::string>{"none"}) motion.clear();
  if (motion != std::vector<std::string>{"auto"}) request.motion = motion;
  options.flag("streaming", request.streaming);
  options.word("input", forms, request.form);
  options.word("unit", units, request.unit);
  options.number("reference_rate_hz", 1e-6, highest_rate, [&](double v) { request.reference_rate = Hertz{v}; });
}

void take_windows(OptionReader& options, Request& request) {
  options.number("window_s", shortest_window, longest_window, [&](double v) { request.rate.window = Seconds{v}; });
  options.number("step_s", shortest_window, longest_window, [&](double v) { request.rate.step = Seconds{v}; });
  options.number("least_confidence", 0, 1, [&](double v) { request.rate.least_confidence = v; });
}

void take_person(OptionReader& options, Request& request) {
  Person& person = request.person;
  options.text("code", person.code);
  options.number("age_years", 1, 120, [&](double v) { person.age_years = v; });
  options.word("sex", words_of(sexes), person.sex);
  options.number("resting_bpm", lowest_resting, highest_resting, [&](double v) { person.resting = BeatsPerMinute{v}; });
  options.number("maximum_bpm", lowest_maximum, highest_maximum,
                 [&](double v) { person.measured_maximum = BeatsPerMinute{v}; });
  options.number("ceiling_bpm", lowest_resting, highest_maximum,
                 [&](double v) { person.own_ceiling = BeatsPerMinute{v}; });
  options.word("exercise", words_of(exercises), person.exercise);
  options.word("equation", words_of(all_equations), request.effort.equation);
  options.number("low_percent", 0, 100, [&](double v) { request.effort.low_fraction = v / 100; });
  options.number("high_percent", 0, 100, [&](double v) { request.effort.high_fraction = v / 100; });
}

/// A fraction as per cent without the noise of the multiplication: 0.6 is 60.
double percent_of(double fraction) { return std::round(fraction * 1e10) / 1e8; }

}  // namespace

std::string options_json(const Request& request) {
  Json options = Json::object();
  const auto note = [&options](const char* key, const auto& quantity) {
    if (quantity) options[key] = quantity->value();
  };
  note("rate_hz", request.read.rate);
  note("start_s", request.read.start);
  note("end_s", request.read.end);
  if (!request.channels.empty()) options["channels"] = request.channels;
  if (request.kind != KindChoice::automatic) options["kind"] = word_of(kinds, request.kind);
  if (request.motion) options["motion"] = request.motion->empty() ? std::vector<std::string>{"none"} : *request.motion;
  if (request.streaming) options["streaming"] = true;
  if (request.form != InputForm::recording) options["input"] = word_of(forms, request.form);
  if (request.form == InputForm::intervals) options["unit"] = word_of(units, request.unit);
  note("reference_rate_hz", request.reference_rate);
  const RateOptions usual;
  if (request.rate.window != usual.window) options["window_s"] = request.rate.window.value();
  if (request.rate.step != usual.step) options["step_s"] = request.rate.step.value();
  if (request.rate.least_confidence != usual.least_confidence)
    options["least_confidence"] = request.rate.least_confidence;
  const Person& person = request.person;
  if (!person.code.empty()) options["code"] = person.code;
  if (person.age_years) options["age_years"] = *person.age_years;
  if (person.sex != Sex::unstated) options["sex"] = to_string(person.sex);
  note("resting_bpm", person.resting);
  note("maximum_bpm", person.measured_maximum);
  note("ceiling_bpm", person.own_ceiling);
  if (person.exercise != Exercise::legs) options["exercise"] = to_string(person.exercise);
  const EffortOptions aim;
  if (request.effort.equation != aim.equation) options["equation"] = to_string(request.effort.equation);
  if (request.effort.low_fraction != aim.low_fraction) options["low_percent"] = percent_of(request.effort.low_fraction);
  if (request.effort.high_fraction != aim.high_fraction)
    options["high_percent"] = percent_of(request.effort.high_fraction);
  return options.dump();
}

Request with_options(Request request, std::string_view json) {
  Json object = Json::parse_or_discard(json);
  if (!object.is_object()) throw Error(ErrorCode::usage, "options: not one JSON object: " + std::string(json));
  OptionReader options(std::move(object));
  take_reading(options, request);
  take_windows(options, request);
  take_person(options, request);
  options.refuse_the_rest();
  check(request);
  return request;
}

void check(const Request& request) {
  if (!(request.effort.low_fraction < request.effort.high_fraction))
    throw Error(ErrorCode::usage, "--low has to be below --high");
  static_cast<void>(maximum_rate(request.person, request.effort.equation));
}

}  // namespace pulsewright
