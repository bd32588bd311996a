#include "traced_numbers.hpp"

#include <algorithm>
#include <utility>

namespace pulsewright {
namespace {

constexpr double us_per_s = 1e6;

}  // namespace

TracedNumber traced_rate(BeatsPerMinute rate, std::string key) {
  return {std::to_string(whole_beats(rate)), std::move(key), format_number(rate.value(), 2)};
}

TracedNumber traced_length(std::int64_t us, std::string key, const Words& words) {
  const Seconds time{static_cast<double>(us) / us_per_s};
  return {words.length(time), std::move(key), format_number(time.value(), 6)};
}

TracedNumber traced_number(double value, int decimals, int shown, std::string key, const Words& words) {
  return {words.number(value, shown), std::move(key), format_number(value, decimals)};
}

TracedNumber traced_count(std::int64_t count, std::string key) {
  return {std::to_string(count), std::move(key), std::to_string(count)};
}

Markup traced_markup(const TracedNumber& number) {
  Markup out;
  if (number.key.empty()) return out.text(number.shown);
  return out.element("data", {{"value", number.exact}, {"data-key", number.key}}, number.shown);
}

Markup traced_sentence(const Words& words, std::string_view key, const std::vector<TracedValue>& values) {
  Markup out;
  for (const Words::Part& part : words.parts(key)) {
    if (!part.is_value) {
      out.text(part.text);
      continue;
    }
    const auto value =
        std::find_if(values.begin(), values.end(), [&part](const TracedValue& v) { return part.text == v.name; });
    if (value == values.end())
      throw Error(ErrorCode::contract, std::string(key) + " asks for {" + part.text + "}, which was not given");
    out.add(traced_markup(value->number));
  }
  return out;
}

}  // namespace pulsewright
