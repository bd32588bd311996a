/// How often intervals over people hold the truth, in simulated studies whose truth is known.
///
///   pulsewright_limits_coverage [STUDIES]
///
/// People's SDs are log-normal around 1, their biases normal with SD 1 (as large as the median SD within a person), and a
/// person's differences an autoregression of first order. Needs no data; 400 studies a row unless told otherwise.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace {

using pulsewright::Estimate;
using pulsewright::PairedValue;

struct Setting {
  std::size_t people;
  double log_sd;     ///< SD of the logarithm of people's own SDs
  double dependent;  ///< autocorrelation of neighbouring differences
  int fewest, most;  ///< pairs a person
};

constexpr double bias = 2, between_sd = 1;
/// The reference: people's means, and around them a course of its own.
constexpr double reference_mean = 100, reference_between = 10, reference_within = 8, reference_dependent = 0.9;

class Course {
 public:
  Course(double sd, double dependent) : sd_(sd), dependent_(dependent) {}
  double next(std::mt19937_64& bits) {
    const double fresh = normal_(bits);
    now_ = begun_ ? dependent_ * now_ + std::sqrt(1 - dependent_ * dependent_) * fresh : fresh;
    begun_ = true;
    return sd_ * now_;
  }

 private:
  std::normal_distribution<double> normal_;
  double sd_, dependent_, now_ = 0;
  bool begun_ = false;
};

std::vector<PairedValue> drawn(const Setting& setting, std::mt19937_64& bits) {
  std::normal_distribution<double> normal;
  std::uniform_int_distribution<int> number(setting.fewest, setting.most);
  std::vector<PairedValue> pairs;
  for (std::size_t person = 0; person < setting.people; ++person) {
    Course difference(std::exp(setting.log_sd * normal(bits)), setting.dependent);
    Course reference(reference_within, reference_dependent);
    const double own = bias + between_sd * normal(bits), level = reference_mean + reference_between * normal(bits);
    for (int k = number(bits); k > 0; --k) {
      PairedValue pair;
      pair.person = person;
      pair.reference = level + reference.next(bits);
      pair.test = pair.reference + own + difference.next(bits);
      pairs.push_back(pair);
    }
  }
  return pairs;
}

struct Held {
  int lower = 0, upper = 0, sd = 0, agreement = 0, rmse = 0, people_mean = 0, mixed = 0, mae = 0;
  double width = 0;  ///< of the SD's interval, high over truth

  void count(int& held, const Estimate& e, double truth) { held += *e.low <= truth && truth <= *e.high ? 1 : 0; }
};

void print_row(const Setting& setting, int studies) {
  std::mt19937_64 bits(17);
  const double within = std::exp(2 * setting.log_sd * setting.log_sd);  // mean over people of the variance
  const double variance = within + between_sd * between_sd, sd = std::sqrt(variance);
  const double reference = reference_between * reference_between + reference_within * reference_within;
  const double agreement = 2 * reference / (2 * reference + variance + bias * bias);
  Held held;
  std::vector<double> widths;
  for (int k = 0; k < studies; ++k) {
    const auto found = pulsewright::paired_agreement(drawn(setting, bits), {.resamples = 500});
    held.count(held.lower, found.repeated->limits.lower, bias - 1.96 * sd);
    held.count(held.upper, found.repeated->limits.upper, bias + 1.96 * sd);
    held.count(held.sd, found.repeated->sd, sd);
    held.count(held.agreement, found.intraclass->agreement, agreement);
    held.count(held.rmse, *found.root_mean_square_error, std::sqrt(variance + bias * bias));
    held.count(held.people_mean, found.of_people->mean, bias);
    held.count(held.mixed, found.of_people->mixed->effects.front().value, bias);
    widths.push_back(*found.repeated->sd.high / sd);
  }
  std::nth_element(widths.begin(), widths.begin() + studies / 2, widths.end());
  const auto percent = [studies](int count) { return 100.0 * count / studies; };
  fmt::print("| {} | {:.1f} | {:.1f} | {} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.2f} |\n",
             setting.people, setting.log_sd, setting.dependent,
             setting.fewest == setting.most ? fmt::format("{}", setting.fewest)
                                            : fmt::format("{} to {}", setting.fewest, setting.most),
             percent(held.lower), percent(held.upper), percent(held.sd), percent(held.agreement), percent(held.rmse),
             percent(held.people_mean), percent(held.mixed), widths[static_cast<std::size_t>(studies) / 2]);
}

}  // namespace

int main(int argc, char** argv) {
  const int studies = argc > 1 ? std::max(1, std::atoi(argv[1])) : 400;
  fmt::print("Share of {} simulated studies whose 95 % interval holds the truth, in per cent\n\n", studies);
  fmt::print(
      "| people | spread of log SD | dependence | pairs a person | lower limit | upper limit | SD | ICC(2,1) | RMSE | "
      "mean "
      "of people | mixed model | SD's upper end / truth |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n");
  for (const std::size_t people : {8U, 14U, 30U})
    for (const double log_sd : {0.0, 0.8, 1.2})
      for (const double dependent : {0.0, 0.7}) print_row({people, log_sd, dependent, 100, 100}, studies);
  for (const std::size_t people : {5U, 8U, 14U}) print_row({people, 0.8, 0.7, 10, 300}, studies);
  for (const std::size_t people : {8U, 30U}) print_row({people, 0.8, 0.0, 4, 4}, studies);
}
