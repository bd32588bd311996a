#include "channel_kind.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

using Words = std::vector<std::string>;

/// A wave slower than this is a monitor's reading, not a signal; ours, well below any rate that shows a heartbeat's shape.
constexpr Hertz slowest_wave{10};

bool is_letter(char c) { return c >= 'a' && c <= 'z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

Words words_of_name(const std::string& lower) {
  Words words;
  std::string word;
  const auto flush = [&] {
    if (word.empty()) return;
    words.push_back(word);
    std::string stem = word;
    while (!stem.empty() && is_digit(stem.back())) stem.pop_back();
    if (!stem.empty() && stem != word) words.push_back(stem);
    word.clear();
  };
  for (const char c : lower) {
    if (is_letter(c) || is_digit(c) || (static_cast<unsigned char>(c) & 0x80U) != 0)
      word += c;
    else
      flush();
  }
  flush();
  return words;
}

template <std::size_t n>
bool any_of(const Words& words, const char* const (&known)[n]) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::any_of(std::begin(known), std::end(known), [&](const char* k) { return word == k; });
  });
}

template <std::size_t n>
bool one_of(std::string_view word, const char* const (&known)[n]) {
  return std::any_of(std::begin(known), std::end(known), [&](const char* k) { return word == k; });
}

constexpr const char* markers[] = {"marker", "mark",     "button", "event",  "trigger", "label", "activity",
                                   "taste",  "ereignis", "marke",  "bouton", "boton",   "botón", "evento"};
constexpr const char* gyros[] = {"gyro", "gyr", "gyroscope", "gx", "gy", "gz", "omega", "drehrate"};
constexpr const char* gyro_units[] = {"deg/s", "dps", "rad/s", "°/s", "degs^-1", "deg s^-1"};
constexpr const char* accelerations[] = {"acc",         "accel",      "accelerometer", "acceleration",   "ax",
                                         "ay",          "az",         "beschl",        "beschleunigung", "accélération",
                                         "aceleracion", "aceleración"};
constexpr const char* acceleration_units[] = {"g", "mg", "m/s2", "m/s^2", "m/s²", "ms^-2", "m s^-2"};
constexpr const char* respirations[] = {"resp",   "respiration", "breath",      "breathing",  "co2",
                                        "capno",  "airflow",     "thorax",      "abdomen",    "atem",
                                        "atmung", "souffle",     "respiracion", "respiración"};
constexpr const char* pulses[] = {"ppg", "pleth", "plethysmogram", "pulse", "bvp", "ir", "infrared", "red", "green",
                                  "optical", "light", "finger",
                                  // German
                                  "puls", "pulswelle", "licht", "gruen", "grün",
                                  // French
                                  "pouls", "lumiere", "lumière", "rouge", "vert", "doigt", "infrarouge",
                                  // Spanish
                                  "pulso", "luz", "rojo", "verde", "dedo", "infrarrojo"};
constexpr const char* hearts[] = {"heart", "herz", "coeur", "cœur", "corazon", "corazón"};
constexpr const char* ecgs[] = {"ecg", "ekg"};
constexpr const char* axes[] = {"x", "y", "z"};
constexpr const char* volts[] = {"v", "mv", "uv"};
/// Beside the word for a wave they make it a number that a monitor worked out.
constexpr const char* readings[] = {"rate", "bpm",  "frequenz",    "frequence",  "fréquence", "frecuencia",
                                    "hr",   "temp", "temperature", "temperatur", "spo2",      "ambient"};
constexpr const char* leads[] = {"i",     "ii",   "iii",  "v",    "avr", "avl", "avf", "v1",  "v2",
                                 "v3",    "v4",   "v5",   "v6",   "v7",  "v8",  "v9",  "mli", "mlii",
                                 "mliii", "mcl1", "mcl5", "mcl6", "d1",  "d2",  "d3",  "cm5"};
constexpr const char* monitor_units[] = {"bpm", "beats/min", "/min", "1/min"};

bool is_lead(const std::string& lower) {
  std::string_view name = trimmed(lower);
  if (name.starts_with("lead")) name.remove_prefix(4);
  while (!name.empty() && (name.front() == ' ' || name.front() == '_' || name.front() == '-')) name.remove_prefix(1);
  return one_of(name, leads);
}

}  // namespace

ChannelKind kind_of_channel(std::string_view name, std::string_view unit, Hertz rate) {
  const std::string lower = lower_case(name);
  const std::string unit_lower = lower_case(trimmed(unit));
  const Words words = words_of_name(lower);
  if (any_of(words, markers)) return ChannelKind::marker;
  if (any_of(words, gyros)) return ChannelKind::gyro;
  if (any_of(words, accelerations)) return ChannelKind::acceleration;
  if (any_of(words, respirations)) return ChannelKind::respiration;
  const bool wave = rate >= slowest_wave && !one_of(unit_lower, monitor_units) && !any_of(words, readings);
  if (any_of(words, ecgs) || is_lead(lower)) return wave ? ChannelKind::ecg : ChannelKind::other;
  if (any_of(words, hearts) && wave) return one_of(unit_lower, volts) ? ChannelKind::ecg : ChannelKind::pulse;
  const bool red = std::find(words.begin(), words.end(), "rot") != words.end() && !any_of(words, axes);
  if (red || any_of(words, pulses)) return wave ? ChannelKind::pulse : ChannelKind::other;
  if (one_of(unit_lower, gyro_units)) return ChannelKind::gyro;
  if (one_of(unit_lower, acceleration_units)) return ChannelKind::acceleration;
  return ChannelKind::other;
}

}  // namespace pulsewright::reading
