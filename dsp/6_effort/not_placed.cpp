#include <array>

#include "class_parts.hpp"

namespace pulsewright {

namespace {

constexpr std::array not_placed_words{"placed",           "no_recording", "shared_recording",    "code_twice",
                                      "rate_hz_doubtful", "no_maximum",   "implausible_resting", "no_resting",
                                      "below_resting",    "no_common_stretch", "not_located",    "little_measured"};
constexpr std::array basis_words{"none", "clock", "course", "start", "sheet", "marks"};

/// Everything that stands against placing a member.
std::vector<NotPlaced> objections_to(const ClassMember& member, const std::vector<ClassMember>& members,
                                     const CommonStretch& common) {
  std::vector<NotPlaced> found;
  const auto object = [&](bool holds, NotPlaced why) {
    if (holds) found.push_back(why);
  };
  const bool measured = member.session && member.session->effort.mean_rate;
  object(!measured, NotPlaced::no_recording);
  object(!sharing_recording(member, members).empty(), NotPlaced::shared_recording);
  object(!sharing_code(member, members).empty(), NotPlaced::code_twice);
  if (!member.session) return found;
  const Effort& effort = member.session->effort;
  object(sampling_doubt(member, members).has_value(), NotPlaced::rate_hz_doubtful);
  object(!effort.maximum, NotPlaced::no_maximum);
  object(!effort.resting && effort.person.resting, NotPlaced::implausible_resting);
  object(!effort.resting && !effort.person.resting, NotPlaced::no_resting);
  object(contradicts_resting(*member.session), NotPlaced::below_resting);
  if (!measured) return found;
  object(common.basis == CommonBasis::none, NotPlaced::no_common_stretch);
  object(common.basis != CommonBasis::none && !member.compared, NotPlaced::not_located);
  if (!member.compared) return found;
  const StretchEffort& compared = *member.compared;
  const double measured_s = static_cast<double>(compared.length_us - compared.unmeasured_us) / 1e6;
  object(compared.measured_share() < least_measured_share || measured_s < least_measured.value(),
         NotPlaced::little_measured);
  return found;
}

}  // namespace

const char* to_string(NotPlaced why) { return not_placed_words[static_cast<std::size_t>(why)]; }
const char* to_string(CommonBasis basis) { return basis_words[static_cast<std::size_t>(basis)]; }

void judge_members(std::vector<ClassMember>& members, const CommonStretch& common) {
  for (ClassMember& member : members) {
    member.objections = objections_to(member, members, common);
    member.not_placed = member.objections.empty() ? NotPlaced::placed : member.objections.front();
  }
}

}  // namespace pulsewright
