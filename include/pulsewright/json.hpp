/// A JSON value (RFC 8259) to build, read and write documents with. The keys of an object keep the order in which they came.
#pragma once

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

namespace pulsewright {

/// Text that is no JSON, or a value that is not what it was taken for.
class JsonError : public std::runtime_error {
 public:
  explicit JsonError(const std::string& message, std::size_t at = 0) : std::runtime_error(message), byte(at) {}
  std::size_t byte;  ///< where the text ceases to be JSON, counted from 1; 0 for a value
};

class Json {
 public:
  using Member = std::pair<std::string, Json>;
  using Members = std::vector<Member>;
  using Elements = std::vector<Json>;

  Json() = default;
  Json(std::nullptr_t) {}
  Json(const char* text) : value_(std::string(text)) {}
  Json(std::string text) : value_(std::move(text)) {}
  Json(std::string_view text) : value_(std::string(text)) {}
  /// A truth value, whole number or number with decimals. Numbers with decimals that are not finite are written as null.
  template <typename Number>
  requires std::is_arithmetic_v<Number> Json(Number number) : value_(scalar(number)) {}
  /// `{{"key", value}, ...}` is an object where every entry is a pair that begins with text; any other list is an array.
  Json(std::initializer_list<Json> list);
  /// An array of values.
  template <typename Value>
  requires std::is_constructible_v<Json, const Value&> Json(const std::vector<Value>& values)
      : value_(Elements(values.begin(), values.end())) {}

  Json(const Json& other);
  Json(Json&& other) noexcept;
  Json& operator=(const Json& other);
  Json& operator=(Json&& other) noexcept;
  ~Json();

  [[nodiscard]] static Json object();
  [[nodiscard]] static Json array();

  /// The value of a text, or of the rest of it. At most `deepest` arrays and objects may stand inside each other. Throws JsonError.
  [[nodiscard]] static Json parse(std::string_view text);
  /// The same, and a value for which `is_discarded` holds in place of an error.
  [[nodiscard]] static Json parse_or_discard(std::string_view text);
  static constexpr std::size_t deepest = 200;

  [[nodiscard]] bool is_null() const { return std::holds_alternative<std::monostate>(value_); }
  [[nodiscard]] bool is_boolean() const { return std::holds_alternative<bool>(value_); }
  [[nodiscard]] bool is_string() const { return std::holds_alternative<std::string>(value_); }
  [[nodiscard]] bool is_array() const { return std::holds_alternative<Elements>(value_); }
  [[nodiscard]] bool is_object() const { return std::holds_alternative<Members>(value_); }
  [[nodiscard]] bool is_number() const { return is_integer() || std::holds_alternative<double>(value_); }
  /// A number written without decimals and exponent that fits 64 bits.
  [[nodiscard]] bool is_integer() const {
    return std::holds_alternative<std::int64_t>(value_) || std::holds_alternative<std::uint64_t>(value_);
  }
  /// A whole number of 0 or more.
  [[nodiscard]] bool is_unsigned() const;
  /// No JSON at all: what `parse_or_discard` gives for a text that is none.
  [[nodiscard]] bool is_discarded() const { return std::holds_alternative<Discarded>(value_); }

  /// The value itself, or as text, truth value, or number, converted as C++ does. Throws JsonError when it is something else.
  template <typename Value>
  [[nodiscard]] Value get() const {
    if constexpr (std::is_same_v<Value, Json>)
      return *this;
    else if constexpr (std::is_same_v<Value, std::string>)
      return text();
    else if constexpr (std::is_same_v<Value, bool>)
      return truth();
    else
      return std::visit([](auto number) { return static_cast<Value>(number); }, number());
  }
  /// The text, where it is one; else null.
  [[nodiscard]] const std::string* text_if() const { return std::get_if<std::string>(&value_); }

  /// Members of an object, elements of an array: how many; 0 for null, 1 for anything else.
  [[nodiscard]] std::size_t size() const;
  [[nodiscard]] bool empty() const { return size() == 0; }

  /// The value under a key, which is added as null where it is not there; null becomes an object. Throws JsonError for anything else.
  Json& operator[](std::string_view key);
  /// The value under a key, or the element at a position, which has to be there. Throws JsonError when it is not.
  [[nodiscard]] const Json& at(std::string_view key) const;
  [[nodiscard]] const Json& operator[](std::string_view key) const { return at(key); }
  [[nodiscard]] Json& at(std::string_view key);
  template <typename Position>
  requires std::is_integral_v<Position>
  [[nodiscard]] const Json& operator[](Position position) const { return element(static_cast<std::size_t>(position)); }
  /// The value under a key of an object; null where there is none, or this is no object.
  [[nodiscard]] const Json* find(std::string_view key) const;
  [[nodiscard]] bool contains(std::string_view key) const { return find(key) != nullptr; }
  /// The value under a key, or `otherwise` where the key is not there.
  template <typename Value>
  [[nodiscard]] Value value(std::string_view key, Value otherwise) const {
    const Json* found = find(key);
    return found == nullptr ? std::move(otherwise) : found->template get<Value>();
  }
  [[nodiscard]] std::string value(std::string_view key, const char* otherwise) const {
    return value(key, std::string(otherwise));
  }

  /// Adds an element; null becomes an array. Throws JsonError for anything else.
  void push_back(Json element);
  void erase(std::string_view key);
  /// Takes over every member of another object.
  void update(const Json& other);

  /// The members of an object, in their order. Throws JsonError when it is none.
  [[nodiscard]] const Members& items() const;

  // The elements of an array; none for anything else.
  [[nodiscard]] const Json* begin() const;
  [[nodiscard]] const Json* end() const;
  [[nodiscard]] Json* begin() { return const_cast<Json*>(std::as_const(*this).begin()); }
  [[nodiscard]] Json* end() { return const_cast<Json*>(std::as_const(*this).end()); }
  [[nodiscard]] const Json& front() const { return element(0); }
  [[nodiscard]] const Json& back() const { return element(size() - 1); }
  [[nodiscard]] Json& back() { return const_cast<Json&>(std::as_const(*this).back()); }

  /// The document as text: on one line, or with so many blanks a level. Bytes that are no UTF-8 become U+FFFD. A number with decimals has as
  /// many digits as tell it from every other.
  [[nodiscard]] std::string dump(int indent = -1) const;

  friend bool operator==(const Json& a, const Json& b);

 private:
  struct Discarded {
    bool operator==(const Discarded&) const = default;
  };
  using Value = std::variant<std::monostate, bool, std::int64_t, std::uint64_t, double, std::string, Elements, Members,
                             Discarded>;
  using Number = std::variant<std::int64_t, std::uint64_t, double>;

  template <typename Arithmetic>
  static Value scalar(Arithmetic number) {
    if constexpr (std::is_same_v<Arithmetic, bool>)
      return number;
    else if constexpr (std::is_floating_point_v<Arithmetic>)
      return static_cast<double>(number);
    else if constexpr (std::is_unsigned_v<Arithmetic>)
      return static_cast<std::uint64_t>(number);
    else
      return static_cast<std::int64_t>(number);
  }

  [[nodiscard]] const std::string& text() const;
  [[nodiscard]] bool truth() const;
  [[nodiscard]] Number number() const;
  [[nodiscard]] const Json& element(std::size_t position) const;
  void write(std::string& into, int indent, std::size_t depth) const;

  friend class JsonBuilder;
  Value value_;
};

}  // namespace pulsewright
