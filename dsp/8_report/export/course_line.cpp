#include "pulsewright/course_line.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "effort_parts.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t columns = 60;
constexpr std::array blocks{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
constexpr const char* nothing = "·";
/// The least range of the blocks, in beats/min.
constexpr double least_range = 10;

using Course = std::vector<std::optional<BeatsPerMinute>>;

/// The mean rate of each column.
Course course_of(const RateSeries& rates) {
  struct Sum {
    double beats = 0, time = 0;  // rate x microseconds, microseconds
  };
  std::vector<Sum> sums(columns);
  const double column_us = rates.duration.value() * 1e6 / static_cast<double>(columns);
  for (const EffortCell& cell : effort_cells(rates)) {
    if (!cell.rate) continue;
    const auto start = static_cast<double>(cell.start_us), end = start + static_cast<double>(cell.length_us);
    const auto first = static_cast<std::size_t>(start / column_us);
    for (std::size_t k = first; k < columns && static_cast<double>(k) * column_us < end; ++k) {
      const double low = std::max(start, static_cast<double>(k) * column_us);
      const double high = std::min(end, static_cast<double>(k + 1) * column_us);
      sums[k].time += high - low;
      sums[k].beats += cell.rate->value() * (high - low);
    }
  }
  Course course;
  course.reserve(columns);
  for (const Sum& sum : sums)
    course.push_back(sum.time > 0 ? std::optional(BeatsPerMinute{sum.beats / sum.time}) : std::nullopt);
  return course;
}

struct Scale {
  std::optional<BeatsPerMinute> low, high;

  void take_in(const Course& course) {
    for (const auto& rate : course) {
      if (!rate) continue;
      low = low ? std::min(*low, *rate) : *rate;
      high = high ? std::max(*high, *rate) : *rate;
    }
  }
};

std::string drawn(const Course& course, const Scale& scale) {
  const double range = std::max((*scale.high - *scale.low).value(), least_range);
  const double bottom = 0.5 * ((*scale.high + *scale.low).value() - range);
  std::string line;
  for (const auto& rate : course) {
    if (!rate) {
      line += nothing;
      continue;
    }
    const double share = (rate->value() - bottom) / range;
    const double level = std::floor(share * static_cast<double>(blocks.size()));
    line += blocks[static_cast<std::size_t>(std::clamp(level, 0.0, static_cast<double>(blocks.size() - 1)))];
  }
  return line;
}

std::string range_of(const Scale& scale) {
  return std::to_string(whole_beats(*scale.low)) + " to " + std::to_string(whole_beats(*scale.high)) + " beats/min";
}

}  // namespace

std::string course_line(const RateSeries& rates) {
  const Course course = course_of(rates);
  Scale scale;
  scale.take_in(course);
  if (!scale.low) return {};
  return drawn(course, scale) + "  " + range_of(scale) + " in " + format_clock(rates.duration) + "\n";
}

std::string course_lines(const ClassComparison& comparison) {
  struct Line {
    const ClassMember* member;
    Course course;
  };
  std::vector<Line> lines;
  Scale scale;
  for (const ClassMember& member : comparison.members) {
    if (!member.session || !member.session->effort.mean_rate) continue;
    lines.push_back({&member, course_of(member.rates)});
    scale.take_in(lines.back().course);
  }
  if (!scale.low) return {};
  TextPage page;
  page.heading("Courses of heart rate, " + range_of(scale) + " on one scale; · is not measured");
  for (const Line& line : lines)
    page.row(line.member->entry.code, drawn(line.course, scale), format_clock(line.member->rates.duration));
  return page.take();
}

}  // namespace pulsewright
