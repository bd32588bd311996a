#include "clean_options.hpp"

#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

constexpr Correction corrections[] = {Correction::repair, Correction::insert_and_delete, Correction::interpolate,
                                      Correction::leave_out};

}  // namespace

void add_clean_options(Command& command, CleanFlags& flags) {
  std::vector<std::string> words;
  for (const Correction correction : corrections) words.emplace_back(to_string(correction));
  command
      .add_option("--correction", flags.correction,
                  "What stands in for flagged intervals: missed beats inserted, extra ones deleted and the rest "
                  "interpolated (repair), only the first two, all interpolated, or nothing")
      ->check(one_of(words))
      ->type_name("HOW")
      ->capture_default_str();
}

CleanOptions clean_options(const CleanFlags& flags) {
  CleanOptions options;
  for (const Correction correction : corrections)
    if (flags.correction == to_string(correction)) options.correction = correction;
  return options;
}

Json settings(const CleanFlags& flags) {
  auto options = Json::object();
  if (flags.correction != CleanFlags{}.correction) options["correction"] = flags.correction;
  return options;
}

}  // namespace pulsewright::program
