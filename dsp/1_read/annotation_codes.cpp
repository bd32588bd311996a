#include <algorithm>
#include <array>

#include "annotation_bytes.hpp"

namespace pulsewright {

namespace {

struct CodeFacts {
  int code;
  std::string_view symbol;
  bool beat;
  BeatLabel label;
};

/// Codes and symbols after annot(5) of the physionet.org manual. Labels group beats as ANSI/AAMI EC57 does [from memory]: bundle branch
/// block and escape beats from above the ventricles count as normal; a fusion of a paced and a normal beat counts as paced.
constexpr std::array table{
    CodeFacts{1, "N", true, BeatLabel::normal},            // normal beat
    CodeFacts{2, "L", true, BeatLabel::normal},            // left bundle branch block
    CodeFacts{3, "R", true, BeatLabel::normal},            // right bundle branch block
    CodeFacts{4, "a", true, BeatLabel::supraventricular},  // aberrated atrial premature
    CodeFacts{5, "V", true, BeatLabel::ventricular},       // premature ventricular contraction
    CodeFacts{6, "F", true, BeatLabel::fusion},            // ventricular and normal
    CodeFacts{7, "J", true, BeatLabel::supraventricular},  // nodal premature
    CodeFacts{8, "A", true, BeatLabel::supraventricular},  // atrial premature
    CodeFacts{9, "S", true, BeatLabel::supraventricular},  // premature or ectopic supraventricular
    CodeFacts{10, "E", true, BeatLabel::ventricular},      // ventricular escape
    CodeFacts{11, "j", true, BeatLabel::normal},           // nodal escape
    CodeFacts{12, "/", true, BeatLabel::paced},           CodeFacts{13, "Q", true, BeatLabel::unclassifiable},
    CodeFacts{14, "~", false, BeatLabel::unlabelled},     // change of signal quality
    CodeFacts{16, "|", false, BeatLabel::unlabelled},     // isolated artefact
    CodeFacts{18, "s", false, BeatLabel::unlabelled},     // ST change
    CodeFacts{19, "T", false, BeatLabel::unlabelled},     // T-wave change
    CodeFacts{20, "*", false, BeatLabel::unlabelled},     // systole
    CodeFacts{21, "D", false, BeatLabel::unlabelled},     // diastole
    CodeFacts{22, "\"", false, BeatLabel::unlabelled},    // comment
    CodeFacts{23, "=", false, BeatLabel::unlabelled},     // measurement
    CodeFacts{24, "p", false, BeatLabel::unlabelled},     // peak of the P wave
    CodeFacts{25, "B", true, BeatLabel::normal},          // bundle branch block, side not given
    CodeFacts{26, "^", false, BeatLabel::unlabelled},     // pacing spike that captured nothing
    CodeFacts{27, "t", false, BeatLabel::unlabelled},     // peak of the T wave
    CodeFacts{28, "+", false, BeatLabel::unlabelled},     // change of rhythm
    CodeFacts{29, "u", false, BeatLabel::unlabelled},     // peak of the U wave
    CodeFacts{30, "?", true, BeatLabel::unclassifiable},  // learning
    CodeFacts{31, "!", false, BeatLabel::unlabelled},     // flutter wave
    CodeFacts{32, "[", false, BeatLabel::unlabelled},     // flutter begins
    CodeFacts{33, "]", false, BeatLabel::unlabelled},     // flutter ends
    CodeFacts{34, "e", true, BeatLabel::normal},          // atrial escape
    CodeFacts{35, "n", true, BeatLabel::normal},          // supraventricular escape
    CodeFacts{36, "@", false, BeatLabel::unlabelled},     // link to further data
    CodeFacts{37, "x", false, BeatLabel::unlabelled},     // blocked P wave
    CodeFacts{38, "f", true, BeatLabel::paced},           // fusion of paced and normal
    CodeFacts{39, "(", false, BeatLabel::unlabelled},     // a wave begins
    CodeFacts{40, ")", false, BeatLabel::unlabelled},     // a wave ends
    CodeFacts{41, "r", true, BeatLabel::ventricular},     // R on T
};

const CodeFacts* facts_of(int code) {
  const auto found = std::find_if(table.begin(), table.end(), [code](const CodeFacts& f) { return f.code == code; });
  return found == table.end() ? nullptr : &*found;
}

}  // namespace

bool is_beat_code(int code) {
  const CodeFacts* facts = facts_of(code);
  return facts != nullptr && facts->beat;
}

BeatLabel label_of_code(int code) {
  const CodeFacts* facts = facts_of(code);
  return facts == nullptr ? BeatLabel::unlabelled : facts->label;
}

namespace reading {

std::string_view symbol_of_code(int code) {
  const CodeFacts* facts = facts_of(code);
  return facts == nullptr ? std::string_view{} : facts->symbol;
}

int code_of_symbol(std::string_view symbol) {
  const auto found =
      std::find_if(table.begin(), table.end(), [symbol](const CodeFacts& f) { return f.symbol == symbol; });
  return found == table.end() ? 0 : found->code;
}

}  // namespace reading

}  // namespace pulsewright
