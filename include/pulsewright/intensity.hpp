/// Categories of intensity: the public-health ones, and schemes that a user writes down.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace pulsewright {

/// Public-health intensity categories (Garber et al. 2011, MSSE 43:1334).
enum class Intensity { very_light, light, moderate, vigorous, near_maximal };
inline constexpr int intensity_count = 5;

[[nodiscard]] const char* to_string(Intensity intensity);  ///< `very_light`, ...

/// Lower bounds of light, moderate, vigorous and near-maximal; a category reaches up to, not including, the next.
inline constexpr std::array<double, intensity_count - 1> reserve_bounds{0.30, 0.40, 0.60, 0.90};
inline constexpr std::array<double, intensity_count - 1> maximum_bounds{0.57, 0.64, 0.77, 0.96};

/// The category of a fraction of reserve: [0,.30) [.30,.40) [.40,.60) [.60,.90) [.90, up); below 0 is very light.
[[nodiscard]] Intensity intensity_of_reserve(double fraction);
/// The category of a fraction of the maximum: < .57, [.57,.64), [.64,.77), [.77,.96), >= .96.
[[nodiscard]] Intensity intensity_of_maximum(double fraction);

/// Perceived exertion as it is asked for: a whole number from 6 (nothing at all) to 20 (as hard as can be).
inline constexpr int least_exertion = 6;
inline constexpr int most_exertion = 20;

/// The category that a perceived exertion stands for: < 9, 9-11, 12-13, 14-17, >= 18 (ACSM, 10th edition; Garber et al. 2011, MSSE 43:1334).
/// Throws Error{usage} outside 6 to 20.
[[nodiscard]] Intensity intensity_of_exertion(int exertion);

/// One category of a scheme, from a fraction up to, not including, the next one's.
struct SchemeCategory {
  std::string name;
  double from_fraction = 0;
};

/// Other categories than the public-health ones.
struct IntensityScheme {
  std::string name;          ///< of the file, without its suffix
  bool from_reserve = true;  ///< false: fractions of the maximum
  std::vector<SchemeCategory> categories;
};

/// The category of a fraction; nothing below the first.
[[nodiscard]] std::optional<std::size_t> category_of(const IntensityScheme& scheme, double fraction);

/// Reads a scheme: a CSV table `category,from_percent,of` whose `of` is `reserve` or `maximum`, the same in every row, or JSON
/// `{"of": "reserve", "categories": [{"category": "easy", "from_percent": 0}, ...]}`. Bounds rise from row to row.
/// Throws Error{unreadable} naming line, value and rule.
[[nodiscard]] IntensityScheme read_scheme(const std::filesystem::path& path);

}  // namespace pulsewright
