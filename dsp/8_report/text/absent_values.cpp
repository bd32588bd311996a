#include "absent_values.hpp"

#include <algorithm>

namespace pulsewright {

std::string absent_name(std::string_view key, const Words& words) {
  for (const char* kind : {"absent.", "measure."})
    if (const std::string name = std::string(kind).append(key); words.has(name)) return words(name);
  return std::string(key);
}

Markup absent_values(const std::vector<Reason>& reasons, const Words& words) {
  struct OneReason {
    const std::string* text;
    std::vector<std::string> names;
  };
  std::vector<OneReason> gathered;
  for (const Reason& reason : reasons) {
    auto found = std::find_if(gathered.begin(), gathered.end(),
                              [&reason](const OneReason& other) { return *other.text == reason.reason; });
    if (found == gathered.end()) found = gathered.insert(gathered.end(), {&reason.reason, {}});
    std::string name = absent_name(reason.measure, words);
    if (std::find(found->names.begin(), found->names.end(), name) == found->names.end())
      found->names.push_back(std::move(name));
  }
  Markup out;
  if (gathered.empty()) return out;
  out.open("ul", {{"class", "quiet"}});
  for (const OneReason& one : gathered) {
    std::string names;
    for (const std::string& name : one.names) names += (names.empty() ? "" : ", ") + name;
    out.open("li").text(names + ": ").element("span", {{"lang", "en"}}, *one.text).close();
  }
  return out.close();
}

}  // namespace pulsewright
