/// Stage 4: beats reviewed by hand. A reviewer's file says what to change of the beats that were found, who said so, when and why; the files
/// of two reviewers are compared, and a third settles what they differ in.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

enum class EditAction {
  add,      ///< a beat that was not found
  remove,   ///< a detection that is no beat
  move,     ///< a beat that was found at the wrong place
  relabel,  ///< a beat of another kind
  keep,     ///< nothing is to be changed here: how an adjudicator turns an edit down
};

/// Lower-case words for files: `add`, `remove`, `move`, `relabel`, `keep`.
[[nodiscard]] const char* to_string(EditAction action);

struct BeatEdit {
  EditAction action = EditAction::keep;
  Seconds time;                             ///< of the beat as it was found; of a new one, where it is
  std::optional<Seconds> to;                ///< of `move`: the right place
  BeatLabel label = BeatLabel::unlabelled;  ///< of `relabel` and `add`
  std::string author;                       ///< a code
  std::string made_at;                      ///< ISO 8601
  std::string reason;
};

/// Reads a file of edits: a CSV with the header `action,time_s,to_s,label,author,made_at,reason`, in any order of columns; lines of `#` are
/// comments. Throws Error{unreadable} with file and line for a column that is missing, a word that is not known, a time that is no number or negative, a `move`
/// without `to_s`, a `relabel` without a label, an edit without author or reason.
[[nodiscard]] std::vector<BeatEdit> read_beat_edits(const std::filesystem::path& path);
/// The bytes of such a file. Times have six decimals.
[[nodiscard]] std::string beat_edits_csv(std::span<const BeatEdit> edits);

/// Two times within this mean the same beat (ours: a third of the narrowest interval there is).
constexpr Seconds same_beat{0.08};

/// Applies edits on top of detection, in the order of the file; each is looked for among the accepted beats as the earlier ones left them. A removed
/// beat is gone from the train (its edit, kept in the provenance, says where it was); a moved or new beat has confidence 1. Stretches declared unreadable stay so. Throws
/// Error{usage} for an edit of a beat that is not there, or an addition where one is.
[[nodiscard]] BeatTrain apply_beat_edits(BeatTrain beats, std::span<const BeatEdit> edits);

/// How two reviewers' edits of the same recording relate.
struct EditComparison {
  struct Dispute {
    std::optional<BeatEdit> first, second;  ///< one of them absent: the other reviewer left the beat alone
    std::optional<BeatEdit> decision;       ///< of the adjudicator
  };
  std::vector<BeatEdit> agreed;   ///< as the first reviewer put it, in time order
  std::vector<Dispute> disputes;  ///< in time order

  /// Disputes without a decision.
  [[nodiscard]] std::size_t open() const;
};
/// Edits belong together when they are of one beat, the closest first; they agree when action, label and, within `same_beat`, the new place do. A decision settles
/// the disputes of its beat. Throws Error{usage} for a decision on something that is not disputed.
[[nodiscard]] EditComparison compare_edits(std::span<const BeatEdit> first, std::span<const BeatEdit> second,
                                           std::span<const BeatEdit> decisions = {});
/// What is to be applied: the agreed edits and the decisions, in time order; `keep` and open disputes change nothing and are left out.
[[nodiscard]] std::vector<BeatEdit> adjudicated(const EditComparison& comparison);

}  // namespace pulsewright
