#include <algorithm>
#include <cmath>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "elementary/elementary.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 220;
constexpr int most_steps = 5;
/// The axis reaches past the high band, so that one sees where the power ends.
constexpr double least_axis_end_hz = 0.5, past_band_hz = 0.1;
/// More frequencies than this are drawn as the highest of each group of neighbours.
constexpr std::size_t most_points = 600;
constexpr double name_px = 14, power_px = 30;
/// Slow changes of a rate that rises and falls outdo all others. Where they are this many times higher, the axis ends with the others.
constexpr double most_slow = 4;
/// A band narrower than this share of the axis has no room for its power.
constexpr double least_share_for_power = 0.1;

/// The density from 0 Hz to `end`.
std::vector<PlotPoint> curve_of(const PowerDensity& density, double end) {
  const double first = density.first.value(), step = density.step.value();
  const auto& values = density.density_ms2_per_hz;
  const auto inside = static_cast<std::size_t>(std::max(0.0, std::floor((end - first) / step) + 1.0));
  const std::size_t size = std::min(values.size(), inside), group = size / most_points + 1;
  std::vector<PlotPoint> curve;
  curve.reserve(size / group + 1);
  for (std::size_t i = 0; i < size; i += group) {
    const auto from = values.begin() + static_cast<std::ptrdiff_t>(i);
    const auto highest = std::max_element(from, from + static_cast<std::ptrdiff_t>(std::min(group, size - i)));
    curve.push_back({first + step * static_cast<double>(highest - values.begin()), *highest});
  }
  return curve;
}

/// Rounded to two significant digits.
double two_digits(double value) {
  const double unit = elementary::pow(10.0, std::floor(elementary::log10(value)) - 1);
  return unit * std::round(value / unit);
}

struct NamedBand {
  const char* name;
  Band band;
  std::optional<double> power_ms2;
};

/// The bands whose power was measured, in order of frequency.
std::vector<NamedBand> bands_of(const Variability& variability, const Bands& bands) {
  std::vector<NamedBand> named{{"VLF", bands.vlf, variability.power.vlf_power_ms2},
                               {"LF", bands.lf, variability.power.lf_power_ms2},
                               {"HF", variability.hf_band, variability.power.hf_power_ms2}};
  std::erase_if(named, [](const NamedBand& band) { return !band.power_ms2; });
  return named;
}

std::string said(const NamedBand& band, const Words& words) {
  return words("spectrum.band", {{"band", band.name},
                                 {"low", words.number(band.band.low.value(), 2)},
                                 {"high", words.number(band.band.high.value(), 2)},
                                 {"power", words.number(*band.power_ms2, 0)}});
}

}  // namespace

std::optional<Figure> spectrum_figure(const Variability& variability, const Words& words) {
  const std::vector<NamedBand> bands = bands_of(variability, Bands{});
  if (variability.density.density_ms2_per_hz.empty() || bands.empty()) return std::nullopt;
  const AxisRange across{0, std::max(least_axis_end_hz, variability.hf_band.high.value() + past_band_hz)};
  std::vector<PlotPoint> curve = curve_of(variability.density, across.high);
  double highest = 0, highest_fast = 0;
  CsvTable table({"frequency_hz", "density_ms2_per_hz"}, words.numbers());
  for (const PlotPoint& point : curve) {
    highest = std::max(highest, point.y);
    if (point.x >= Bands{}.lf.low.value()) highest_fast = std::max(highest_fast, point.y);
    table.number(point.x, 6).number(point.y, 3).end_row();
  }
  const bool cut = highest_fast > 0 && highest > most_slow * highest_fast;
  const AxisRange range = rounded_out({0, cut ? highest_fast : highest}, most_steps);
  for (PlotPoint& point : curve) point.y = std::min(point.y, range.high);

  Figure figure;
  figure.id = "spectrum";
  figure.title = words("spectrum.title");
  figure.y_title = words("spectrum.y");
  Plot plot(across, range, height_px);
  plot.x_axis(value_ticks(across, most_steps, words.numbers()), words("spectrum.x"));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  figure.alt = words("spectrum.alt");
  for (const NamedBand& band : bands) {
    const double low = band.band.low.value(), high = band.band.high.value();
    plot.strokes({{low, range.low, range.high}, {high, range.low, range.high}}, "middle");
    const double middle = 0.5 * (low + high);
    plot.label(band.name, middle, name_px, "middle", "inside");
    if (high - low >= least_share_for_power * across.length())
      plot.label(words.number(*band.power_ms2, 0) + " ms²", middle, power_px, "middle", "inside");
    figure.alt.append(" ").append(said(band, words));
  }
  std::vector<PlotPoint> under = curve;
  under.push_back({curve.back().x, 0});
  under.insert(under.begin(), {curve.front().x, 0});
  plot.area(under, "interval");
  plot.line(curve, "thin rate");
  plot.finish(figure);
  figure.caption = words("spectrum.caption");
  if (cut)
    figure.caption.append(" ").append(words("spectrum.cut", {{"edge", words.number(Bands{}.lf.low.value(), 2)},
                                                             {"highest", words.number(two_digits(highest), 0)}}));
  figure.csv = table.take();
  return figure;
}

}  // namespace pulsewright
