#include <algorithm>
#include <limits>
#include <utility>

#include "class_parts.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

/// Whether two lines use a moment of one recording twice.
bool overlap(const ClassMember& a, const ClassMember& b) {
  const auto span = [](const ClassMember& member) {
    return std::pair{member.entry.from.value_or(Seconds{0.0}),
                     member.entry.to.value_or(Seconds{std::numeric_limits<double>::infinity()})};
  };
  if (a.begins_s && b.begins_s && a.session && b.session) {
    const double length_a = a.rates.duration.value(), length_b = b.rates.duration.value();
    return *a.begins_s < *b.begins_s + length_b && *b.begins_s < *a.begins_s + length_a;
  }
  return span(a).first < span(b).second && span(b).first < span(a).second;
}

bool same_recording(const ClassMember& a, const ClassMember& b) {
  if (a.entry.channel != b.entry.channel) return false;
  const bool same_file =
      !a.entry.file.empty() && a.entry.file.lexically_normal() == b.entry.file.lexically_normal();
  return (same_file || (!a.content.empty() && a.content == b.content)) && overlap(a, b);
}

bool has_own_stretch(const ClassMember& member) {
  const SheetEntry& entry = member.entry;
  return (entry.from || entry.from_time_of_day_s) && (entry.to || entry.to_time_of_day_s);
}

template <class Which>
std::vector<const ClassMember*> others(const ClassMember& member, const std::vector<ClassMember>& members,
                                       Which which) {
  std::vector<const ClassMember*> found;
  for (const ClassMember& other : members)
    if (&other != &member && which(other)) found.push_back(&other);
  return found;
}

}  // namespace

std::vector<const ClassMember*> sharing_recording(const ClassMember& member, const std::vector<ClassMember>& members) {
  return others(member, members, [&](const ClassMember& other) {
    return other.entry.code != member.entry.code && same_recording(member, other);
  });
}

std::vector<const ClassMember*> sharing_code(const ClassMember& member, const std::vector<ClassMember>& members) {
  return others(member, members, [&](const ClassMember& other) {
    return other.entry.code == member.entry.code && !(has_own_stretch(member) && has_own_stretch(other));
  });
}

std::optional<double> sampling_doubt(const ClassMember& member, const std::vector<ClassMember>& members) {
  if (!member.rate_was_stated || !member.session || !member.session->effort.mean_rate) return std::nullopt;
  std::vector<double> lengths, rates;
  for (const ClassMember& other : members) {
    if (&other == &member || !other.session || !other.session->effort.mean_rate) continue;
    lengths.push_back(static_cast<double>(other.session->effort.duration_us));
    rates.push_back(other.session->effort.mean_rate->value());
  }
  constexpr std::size_t fewest = 3;
  if (lengths.size() < fewest) return std::nullopt;
  const double longer = static_cast<double>(member.session->effort.duration_us) / median(std::span(lengths));
  const double slower = median(std::span(rates)) / member.session->effort.mean_rate->value();
  // Half as long again, and the rates as much too low; or the other way round. A recording that was cut off is short with rates like the others'.
  constexpr double doubtful = 1.5, alike = 1.35;
  const double factor = std::max(longer, 1.0 / longer);
  if (factor < doubtful || std::max(longer / slower, slower / longer) > alike) return std::nullopt;
  return longer;
}

const char* to_string(ClassFault fault) {
  switch (fault) {
    case ClassFault::absent: return "absent";
    case ClassFault::not_in_roster: return "not_in_roster";
    case ClassFault::code_twice: return "code_twice";
    case ClassFault::recording_twice: return "recording_twice";
    case ClassFault::implausible_resting: return "implausible_resting";
    case ClassFault::rate_hz_doubtful: return "rate_hz_doubtful";
    case ClassFault::looks_swapped: break;
  }
  return "looks_swapped";
}

namespace {

std::optional<double> lowest_rate(const ClassMember& member) {
  const auto lowest = member.session ? lowest_stable_rate(member.rates, Seconds{30.0}) : std::nullopt;
  return lowest ? std::optional{lowest->rate.value()} : std::nullopt;
}

/// Whether a recording may be of somebody with that resting rate: nothing far below it, and no lesson starts far above.
bool may_belong(double lowest, double resting) {
  constexpr double below = 5.0, above = 35.0;
  return lowest > resting - below && lowest < resting + above;
}

/// Those whose resting rate fits the member's recording, and whose recording fits the member's resting rate.
std::vector<std::string> swapped_with(const ClassMember& member, const std::vector<ClassMember>& members) {
  const auto lowest = lowest_rate(member);
  if (!lowest) return {};
  std::vector<const ClassMember*> fitting = others(member, members, [&](const ClassMember& other) {
    const auto theirs = lowest_rate(other);
    const auto& resting = other.session ? other.session->effort.resting : std::nullopt;
    return other.entry.code != member.entry.code && theirs && resting && may_belong(*lowest, resting->rate.value()) &&
           may_belong(*theirs, member.session->effort.resting->rate.value());
  });
  // Those whose own recording fits them worst come first; more than three names say nothing.
  std::stable_sort(fitting.begin(), fitting.end(), [](const ClassMember* a, const ClassMember* b) {
    const auto distance = [](const ClassMember* m) {
      return *lowest_rate(*m) - m->session->effort.resting->rate.value();
    };
    return distance(a) > distance(b);
  });
  constexpr std::size_t most = 3;
  fitting.resize(std::min(most, fitting.size()));
  std::vector<std::string> codes;
  for (const ClassMember* other : fitting) codes.push_back(other->entry.code);
  return codes;
}

void add_roster_findings(const Roster& roster, const SessionSheet& sheet, std::vector<ClassFinding>& findings) {
  for (const Person& person : roster.people) {
    const auto entry = std::find_if(sheet.entries.begin(), sheet.entries.end(),
                                    [&](const SheetEntry& e) { return e.code == person.code; });
    if (entry == sheet.entries.end()) findings.push_back({ClassFault::absent, person.code, 0, {}, 0, 0});
    if (entry != sheet.entries.end() && !resting_warnings(person).empty())
      findings.push_back(
          {ClassFault::implausible_resting, person.code, entry->line, {}, 0, person.resting->value()});
  }
  for (const SheetEntry& entry : sheet.entries)
    if (roster.find(entry.code) == nullptr)
      findings.push_back({ClassFault::not_in_roster, entry.code, entry.line, {}, 0, 0});
}

}  // namespace

std::vector<ClassFinding> check_class(const Roster& roster, const SessionSheet& sheet,
                                      const std::vector<ClassMember>& members) {
  std::vector<ClassFinding> findings;
  add_roster_findings(roster, sheet, findings);
  for (const ClassMember& member : members) {
    const auto find = [&](ClassFault fault) -> ClassFinding& {
      return findings.emplace_back(ClassFinding{fault, member.entry.code, member.entry.line, {}, 0, 0});
    };
    const auto above = [&](std::vector<const ClassMember*> all) {
      std::erase_if(all, [&](const ClassMember* other) { return other->entry.line >= member.entry.line; });
      return all;
    };
    if (const auto twice = above(sharing_code(member, members)); !twice.empty())
      find(ClassFault::code_twice).other_line = twice.front()->entry.line;
    if (const auto shared = above(sharing_recording(member, members)); !shared.empty()) {
      ClassFinding& finding = find(ClassFault::recording_twice);
      for (const ClassMember* other : shared) finding.others.push_back(other->entry.code);
    }
    if (const auto longer = sampling_doubt(member, members)) find(ClassFault::rate_hz_doubtful).value = *longer;
    if (!member.session || !contradicts_resting(*member.session)) continue;
    if (auto codes = swapped_with(member, members); !codes.empty())
      find(ClassFault::looks_swapped).others = std::move(codes);
  }
  return findings;
}

}  // namespace pulsewright
