#include "pulsewright/json.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

namespace pulsewright {

namespace {

/// A scalar as the library writes it.
template <typename Scalar>
std::string written(const Scalar& scalar) {
  return nlohmann::json(scalar).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

bool is_plain(char c) { return ' ' <= c && c <= '~' && c != '"' && c != '\\'; }

void write_text(std::string& into, const std::string& text) {
  if (!std::all_of(text.begin(), text.end(), is_plain)) {
    into += written(text);
    return;
  }
  into += '"';
  into += text;
  into += '"';
}

void begin_line(std::string& into, int indent, std::size_t depth) {
  if (indent < 0) return;
  into += '\n';
  into.append(static_cast<std::size_t>(indent) * depth, ' ');
}

}  // namespace

Json::Json(const Json&) = default;
Json::Json(Json&&) noexcept = default;
Json& Json::operator=(const Json&) = default;
Json& Json::operator=(Json&&) noexcept = default;
Json::~Json() = default;

Json::Json(std::initializer_list<Json> list) {
  const bool pairs = std::all_of(list.begin(), list.end(), [](const Json& entry) {
    return entry.is_array() && entry.size() == 2 && entry.front().is_string();
  });
  if (!pairs) {
    value_ = Elements(list);
    return;
  }
  value_ = Members{};
  for (const Json& entry : list) (*this)[entry[0].text()] = entry[1];
}

Json Json::object() {
  Json made;
  made.value_ = Members{};
  return made;
}

Json Json::array() {
  Json made;
  made.value_ = Elements{};
  return made;
}

bool Json::is_unsigned() const {
  const auto* number = std::get_if<std::int64_t>(&value_);
  return std::holds_alternative<std::uint64_t>(value_) || (number != nullptr && *number >= 0);
}

const std::string& Json::text() const {
  if (!is_string()) throw JsonError("a value is no text");
  return std::get<std::string>(value_);
}

bool Json::truth() const {
  if (!is_boolean()) throw JsonError("a value is neither true nor false");
  return std::get<bool>(value_);
}

Json::Number Json::number() const {
  if (const auto* whole = std::get_if<std::int64_t>(&value_)) return *whole;
  if (const auto* natural = std::get_if<std::uint64_t>(&value_)) return *natural;
  if (const auto* decimal = std::get_if<double>(&value_)) return *decimal;
  throw JsonError("a value is no number");
}

std::size_t Json::size() const {
  if (const auto* elements = std::get_if<Elements>(&value_)) return elements->size();
  if (const auto* members = std::get_if<Members>(&value_)) return members->size();
  return is_null() ? 0 : 1;
}

const Json& Json::element(std::size_t position) const {
  const auto* elements = std::get_if<Elements>(&value_);
  if (elements == nullptr || position >= elements->size())
    throw JsonError("there is no element " + std::to_string(position));
  return (*elements)[position];
}

Json& Json::operator[](std::string_view key) {
  if (is_null()) value_ = Members{};
  if (!is_object()) throw JsonError("a value is no object, and has no '" + std::string(key) + "'");
  if (const Json* found = find(key)) return const_cast<Json&>(*found);
  return std::get<Members>(value_).emplace_back(std::string(key), Json{}).second;
}

const Json& Json::at(std::string_view key) const {
  const Json* found = find(key);
  if (found == nullptr) throw JsonError("'" + std::string(key) + "' is missing");
  return *found;
}

Json& Json::at(std::string_view key) { return const_cast<Json&>(std::as_const(*this).at(key)); }

const Json* Json::find(std::string_view key) const {
  const auto* members = std::get_if<Members>(&value_);
  if (members == nullptr) return nullptr;
  const auto found =
      std::find_if(members->begin(), members->end(), [key](const Member& member) { return member.first == key; });
  return found == members->end() ? nullptr : &found->second;
}

void Json::push_back(Json element) {
  if (is_null()) value_ = Elements{};
  auto* elements = std::get_if<Elements>(&value_);
  if (elements == nullptr) throw JsonError("a value is no array, and takes no elements");
  elements->push_back(std::move(element));
}

void Json::erase(std::string_view key) {
  if (auto* members = std::get_if<Members>(&value_))
    std::erase_if(*members, [key](const Member& member) { return member.first == key; });
}

void Json::update(const Json& other) {
  for (const auto& [key, value] : other.items()) (*this)[key] = value;
}

const Json::Members& Json::items() const {
  const auto* members = std::get_if<Members>(&value_);
  if (members == nullptr) throw JsonError("a value is no object");
  return *members;
}

const Json* Json::begin() const {
  const auto* elements = std::get_if<Elements>(&value_);
  return elements == nullptr ? nullptr : elements->data();
}

const Json* Json::end() const {
  const auto* elements = std::get_if<Elements>(&value_);
  return elements == nullptr ? nullptr : elements->data() + elements->size();
}

bool operator==(const Json& a, const Json& b) {
  if (a.is_number() && b.is_number() && a.value_.index() != b.value_.index()) return a.get<double>() == b.get<double>();
  return a.value_ == b.value_;
}

void Json::write(std::string& into, int indent, std::size_t depth) const {
  const auto block = [&](char opening, char closing, const auto& parts, const auto& write_part) {
    into += opening;
    bool first = true;
    for (const auto& part : parts) {
      if (!std::exchange(first, false)) into += ',';
      begin_line(into, indent, depth + 1);
      write_part(part);
    }
    if (!first) begin_line(into, indent, depth);
    into += closing;
  };
  if (const auto* elements = std::get_if<Elements>(&value_)) {
    block('[', ']', *elements, [&](const Json& element) { element.write(into, indent, depth + 1); });
  } else if (const auto* members = std::get_if<Members>(&value_)) {
    block('{', '}', *members, [&](const Member& member) {
      write_text(into, member.first);
      into += indent < 0 ? ":" : ": ";
      member.second.write(into, indent, depth + 1);
    });
  } else if (const auto* text = std::get_if<std::string>(&value_)) {
    write_text(into, *text);
  } else if (const auto* whole = std::get_if<std::int64_t>(&value_)) {
    into += std::to_string(*whole);
  } else if (const auto* natural = std::get_if<std::uint64_t>(&value_)) {
    into += std::to_string(*natural);
  } else if (const auto* decimal = std::get_if<double>(&value_)) {
    into += written(*decimal);
  } else if (const auto* truth = std::get_if<bool>(&value_)) {
    into += *truth ? "true" : "false";
  } else {
    into += "null";
  }
}

std::string Json::dump(int indent) const {
  std::string into;
  write(into, indent, 0);
  return into;
}

/// Takes what the library's parser finds and builds the value, level by level.
class JsonBuilder : public nlohmann::json_sax<nlohmann::json> {
 public:
  Json result;
  std::string fault;  ///< empty when there is none
  std::size_t byte = 0;

  bool null() override { return put(Json{}); }
  bool boolean(bool truth) override { return put(truth); }
  bool number_integer(std::int64_t number) override { return put(number); }
  bool number_unsigned(std::uint64_t number) override { return put(number); }
  bool number_float(double number, const std::string&) override { return put(number); }
  bool string(std::string& text) override { return put(std::move(text)); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(Json::object()); }
  bool start_array(std::size_t) override { return open(Json::array()); }
  bool key(std::string& name) override {
    key_ = std::move(name);
    return true;
  }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception& error) override {
    fault = error.what();
    byte = position;
    return false;
  }

 private:
  /// A value goes under the last key, at the end of the innermost array, or is the whole document.
  Json& place(Json value) {
    if (open_.empty()) return result = std::move(value);
    Json& inside = *open_.back();
    if (inside.is_array()) {
      inside.push_back(std::move(value));
      return inside.back();
    }
    return std::get<Json::Members>(inside.value_).emplace_back(std::move(key_), std::move(value)).second;
  }

  /// A key that stands twice in an object has its last value, in its first place.
  static void join_repeated(Json::Members& members) {
    std::map<std::string_view, std::size_t> first_places;
    std::vector<std::size_t> repeated;
    for (std::size_t place = 0; place < members.size(); ++place) {
      const auto [first, is_new] = first_places.emplace(members[place].first, place);
      if (is_new) continue;
      members[first->second].second = members[place].second;
      repeated.push_back(place);
    }
    for (auto place = repeated.rbegin(); place != repeated.rend(); ++place)
      members.erase(members.begin() + static_cast<std::ptrdiff_t>(*place));
  }

  bool put(Json value) {
    place(std::move(value));
    return true;
  }

  bool open(Json value) {
    if (open_.size() == Json::deepest) {
      fault = "more than " + std::to_string(Json::deepest) + " lists and objects stand inside each other";
      return false;
    }
    open_.push_back(&place(std::move(value)));
    return true;
  }

  bool close() {
    if (auto* members = std::get_if<Json::Members>(&open_.back()->value_)) join_repeated(*members);
    open_.pop_back();
    return true;
  }

  std::vector<Json*> open_;  // a level grows only while it is the innermost, so that these stay where they are
  std::string key_;
};

Json Json::parse(std::string_view text) {
  JsonBuilder builder;
  if (!nlohmann::json::sax_parse(text.begin(), text.end(), &builder)) throw JsonError(builder.fault, builder.byte);
  return std::move(builder.result);
}

Json Json::parse_or_discard(std::string_view text) {
  JsonBuilder builder;
  if (!nlohmann::json::sax_parse(text.begin(), text.end(), &builder)) builder.result.value_ = Discarded{};
  return std::move(builder.result);
}

}  // namespace pulsewright
