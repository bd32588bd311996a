/// What a report says, in one language. The texts lie in `words/LANGUAGE.txt`, one `key = text` a line; `{name}` stands for a value.
#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/report.hpp"

namespace pulsewright {

/// A number as people read it, with where it stands in the JSON document of the analysis and what stands there.
struct TracedNumber {
  std::string shown;
  std::string key;    ///< path in the document, `effort.mean_hr_bpm`; empty for what is no number of the document
  std::string exact;  ///< the number there
};

class Words {
 public:
  /// Throws Error{contract} when the file of the language has a line that is no `key = text`.
  explicit Words(Language language);

  struct Value {
    const char* name;
    std::string text;
  };

  /// The text of a key. Throws Error{contract} for a key that the language does not have.
  [[nodiscard]] const std::string& operator()(std::string_view key) const;
  /// The text of a key with values put in. Throws Error{contract} when the text asks for a value that is not given.
  [[nodiscard]] std::string operator()(std::string_view key, std::initializer_list<Value> values) const;
  /// The parts of a text in order: plain ones, and names of values.
  struct Part {
    std::string text;
    bool is_value = false;
  };
  [[nodiscard]] std::vector<Part> parts(std::string_view key) const;

  [[nodiscard]] bool has(std::string_view key) const { return texts_.find(key) != texts_.end(); }
  [[nodiscard]] Language language() const { return language_; }
  /// `en`, `de`, `es`: for the attribute `lang`.
  [[nodiscard]] const char* tag() const;
  [[nodiscard]] const NumberStyle& numbers() const { return numbers_; }

  /// Fixed decimals in the language's manner.
  [[nodiscard]] std::string number(double value, int decimals) const;
  /// A whole number.
  [[nodiscard]] std::string count(std::int64_t value) const;
  /// A number of things with their name, `1 person`, `12 people`: the texts `count.NOUN.one` and `count.NOUN`.
  [[nodiscard]] std::string counted(std::string_view noun, std::int64_t value) const;
  /// A length of time with its unit: `45 s`, `8:00 min`, `1:04:32 h`.
  [[nodiscard]] std::string length(Seconds time) const;

 private:
  Language language_;
  NumberStyle numbers_;
  std::map<std::string, std::string, std::less<>> texts_;
};

}  // namespace pulsewright
