/// The words of an annotation file: the top six bits a type, the low ten a value (annot(5) of the physionet.org manual).
#pragma once

namespace pulsewright::reading {

inline constexpr unsigned value_bits = 10;
inline constexpr unsigned largest_value = (1U << value_bits) - 1;
inline constexpr int last_code = 49;     ///< highest code of an annotation
inline constexpr int skip_word = 59;     ///< four bytes follow: samples to skip, high half first
inline constexpr int number_word = 60;   ///< `number` of this and the following annotations
inline constexpr int subtype_word = 61;  ///< `subtype` of this annotation
inline constexpr int channel_word = 62;  ///< `channel` of this and the following annotations
inline constexpr int text_word = 63;     ///< that many bytes of text follow, padded to even
inline constexpr unsigned longest_text = 255;

}  // namespace pulsewright::reading
