#include "people_intervals.hpp"

#include <cmath>
#include <vector>

namespace pulsewright {
namespace {

/// What two ways of measuring share and what they do not, of single values: twice the variance of a
/// pair's mean, half that of its difference, and the bias.
struct Shares {
  double common = 0, apart = 0, bias = 0;
};

/// Draws of the means are paired with those of the differences half a turn on, so that the two do not
/// go together.
std::vector<Shares> shares_of(std::span<const Population> differences, std::span<const Population> means) {
  std::vector<Shares> shares;
  shares.reserve(differences.size());
  const std::size_t n = means.size();
  constexpr std::size_t stride = 1777;  // prime, so that every draw has its turn
  for (std::size_t i = 0; i < differences.size(); ++i)
    shares.push_back(
        {2 * means[(i * stride + n / 2) % n].variance(), differences[i].variance() / 2, differences[i].mean});
  return shares;
}

}  // namespace

void put_people_intervals(PairedAgreement& agreement, std::span<const Population> differences,
                          std::span<const Population> means) {
  if (differences.empty() || means.empty()) return;
  const std::vector<Shares> shares = shares_of(differences, means);
  const auto put = [&shares](Estimate& e, auto measure) {
    std::vector<double> values;
    values.reserve(shares.size());
    for (const Shares& s : shares) values.push_back(measure(s));
    e = middle_95(e.value, std::move(values));
  };
  const auto one_way = [](const Shares& s) {
    const double error = s.apart + s.bias * s.bias / 2;
    return (s.common - error) / (s.common + error);
  };
  const auto agreeing = [](const Shares& s) { return (s.common - s.apart) / (s.common + s.apart + s.bias * s.bias); };
  const auto consistent = [](const Shares& s) { return (s.common - s.apart) / (s.common + s.apart); };
  if (agreement.intraclass) {
    put(agreement.intraclass->one_way, one_way);
    put(agreement.intraclass->agreement, agreeing);
    put(agreement.intraclass->consistency, consistent);
  }
  if (agreement.concordance_population) put(*agreement.concordance_population, agreeing);
  if (agreement.root_mean_square_error)
    put(*agreement.root_mean_square_error, [](const Shares& s) { return std::sqrt(2 * s.apart + s.bias * s.bias); });
}

}  // namespace pulsewright
