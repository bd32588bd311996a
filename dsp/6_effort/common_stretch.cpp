#include <algorithm>
#include <cmath>

#include "class_parts.hpp"

namespace pulsewright {

namespace {

/// So many of those whose place is known have to be there (ours): what a few late or short recordings leave of a lesson
/// does not shrink it for all.
constexpr double common_share = 0.75;
constexpr Seconds shortest_stretch{120.0};

bool is_measured(const ClassMember& member) { return member.session && member.session->effort.mean_rate; }

template <class Has>
bool everybody(const std::vector<ClassMember>& members, Has has) {
  std::size_t measured = 0;
  for (const ClassMember& member : members) {
    if (!is_measured(member)) continue;
    if (!has(member)) return false;
    ++measured;
  }
  return measured > 0;
}

bool has_own_stretch(const ClassMember& member) {
  const SheetEntry& entry = member.entry;
  return (entry.from || entry.from_time_of_day_s) && (entry.to || entry.to_time_of_day_s);
}

std::vector<Span> marked_work(const ClassMember& member) {
  std::vector<Span> bouts;
  for (const Phase& phase : member.session->phases)
    if (phase.marked && phase.kind == PhaseKind::work) bouts.push_back(phase.span());
  return bouts;
}

/// The longest time during which enough people were being recorded at once.
std::optional<Span> longest_shared(const std::vector<ClassMember>& members) {
  std::vector<std::pair<double, int>> ends;  // when, and how the number of people changes
  int people = 0;
  for (const ClassMember& member : members) {
    if (!member.lesson_s) continue;
    const double start = member.lesson_s->value();
    ends.emplace_back(start, 1);
    ends.emplace_back(start + static_cast<double>(member.session->effort.duration_us) / 1e6, -1);
    ++people;
  }
  std::sort(ends.begin(), ends.end(), [](const auto& a, const auto& b) {
    return a.first != b.first ? a.first < b.first : a.second > b.second;
  });
  const int needed = std::max(1, static_cast<int>(std::ceil(common_share * people)));
  std::optional<Span> longest;
  std::optional<double> since;
  int present = 0;
  for (const auto& [at, change] : ends) {
    present += change;
    if (present >= needed) {
      if (!since) since = at;
    } else if (since) {
      const Span span{Seconds{*since}, Seconds{at}};
      if (!longest || longest->length() < span.length()) longest = span;
      since.reset();
    }
  }
  if (longest && longest->length() < shortest_stretch) return std::nullopt;
  return longest;
}

}  // namespace

CommonStretch find_common_stretch(std::vector<ClassMember>& members) {
  CommonStretch common;
  common.basis = locate_members(members);
  if (everybody(members, has_own_stretch)) {
    common.basis = CommonBasis::sheet;
    for (ClassMember& member : members)
      if (is_measured(member))
        member.compared = effort_over(*member.session, std::vector{Span{Seconds{0.0}, member.rates.duration}});
    return common;
  }
  if (everybody(members, [](const ClassMember& member) { return !marked_work(member).empty(); })) {
    common.basis = CommonBasis::marks;
    for (ClassMember& member : members)
      if (is_measured(member)) member.compared = effort_over(*member.session, marked_work(member));
    return common;
  }
  const std::optional<Span> shared = longest_shared(members);
  if (!shared) {
    common.basis = CommonBasis::none;
    return common;
  }
  common.lesson = *shared;
  for (ClassMember& member : members)
    if (member.lesson_s)
      member.compared = effort_over(
          *member.session, std::vector{Span{shared->start - *member.lesson_s, shared->end - *member.lesson_s}});
  return common;
}

}  // namespace pulsewright
