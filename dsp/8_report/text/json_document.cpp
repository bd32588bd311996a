#include "json_document.hpp"

#include <algorithm>
#include <charconv>

namespace pulsewright {

Reasons::Reasons(const std::vector<Reason>& given) {
  for (const Reason& reason : given) given_.emplace(reason.measure, reason.reason);
}

void Reasons::explain(const std::string& key, const std::string& otherwise) {
  const auto stage = given_.find(key);
  const std::string& reason = stage == given_.end() ? otherwise : stage->second;
  std::vector<std::string>& sentences = used_[key];
  if (std::find(sentences.begin(), sentences.end(), reason) == sentences.end()) sentences.push_back(reason);
}

Json Reasons::json() const {
  Json object = Json::object();
  for (const auto& [key, sentences] : used_) {
    std::string joined;
    for (const std::string& sentence : sentences) joined += (joined.empty() ? "" : "; ") + sentence;
    object[key] = joined;
  }
  return object;
}

Json json_number(std::optional<double> value, int decimals) {
  const std::string digits = format_number(value, decimals);
  if (digits.empty()) return nullptr;
  double rounded = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), rounded);
  return rounded;
}

void put(Json& object, Reasons& reasons, const std::string& key, std::optional<double> value, int decimals,
         const std::string& otherwise) {
  object[key] = json_number(value, decimals);
  if (object[key].is_null()) reasons.explain(key, otherwise);
}

void put_word(Json& object, Reasons& reasons, const std::string& key, const char* word, const std::string& otherwise) {
  object[key] = nullptr;
  if (word != nullptr)
    object[key] = word;
  else
    reasons.explain(key, otherwise);
}

Json json_spans(const std::vector<Span>& spans) {
  Json list = Json::array();
  for (const Span& span : spans)
    list.push_back({{"start_s", json_number(span.start.value(), 6)}, {"end_s", json_number(span.end.value(), 6)}});
  return list;
}

namespace {

Json provenance_body(const Provenance& provenance, Reasons& reasons) {
  Json body = Json::object();
  body["input"] = provenance.input;
  body["format"] = provenance.format;
  body["sha256"] = nullptr;
  if (provenance.sha256.empty())
    reasons.explain("sha256", "there was no single input file to hash");
  else
    body["sha256"] = provenance.sha256;
  body["options"] = provenance.options.empty() ? Json::object() : Json::parse(provenance.options);
  body["version"] = provenance.version.empty() ? version() : provenance.version;
  return body;
}

}  // namespace

std::string json_document(const std::string& name, const Json& body, Reasons reasons, const Warnings& warnings,
                          const Provenance& provenance) {
  Json document = Json::object();
  document["schema_version"] = schema_version;
  document["document"] = name;
  for (const auto& [key, value] : body.items()) document[key] = value;
  const Json origin = provenance_body(provenance, reasons);
  document["reasons"] = reasons.json();
  document["warnings"] = Json::array();
  for (const Warning& warning : warnings)
    document["warnings"].push_back({{"code", warning.code}, {"message", warning.message}});
  document["provenance"] = origin;
  // Names in other encodings than UTF-8 keep their readable letters; the rest becomes U+FFFD.
  return document.dump(2) + "\n";
}

}  // namespace pulsewright
