#include <algorithm>
#include <utility>
#include <vector>

#include "8_report/text/absent_values.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t most_named = 12;

/// One thing said of several people, in the order in which it is first said.
struct SaidOf {
  std::vector<std::string> keys;
  std::string text;
  std::vector<std::string> codes;
};

void say(std::vector<SaidOf>& all, const std::string& key, const std::string& text, const std::string& code) {
  auto found = std::find_if(all.begin(), all.end(),
                            [&](const SaidOf& said) { return said.keys.front() == key && said.text == text; });
  if (found == all.end()) found = all.insert(all.end(), {{key}, text, {}});
  if (std::find(found->codes.begin(), found->codes.end(), code) == found->codes.end()) found->codes.push_back(code);
}

/// Several values that are absent of the same people for the same reason are one thing.
std::vector<SaidOf> together(const std::vector<SaidOf>& all) {
  std::vector<SaidOf> merged;
  for (const SaidOf& said : all) {
    const auto found = std::find_if(merged.begin(), merged.end(), [&](const SaidOf& other) {
      return other.text == said.text && other.codes == said.codes;
    });
    if (found == merged.end())
      merged.push_back(said);
    else
      found->keys.push_back(said.keys.front());
  }
  return merged;
}

std::string joined(const std::vector<std::string>& codes, const Words& words) {
  if (codes.size() > most_named) return words.counted("people", static_cast<std::int64_t>(codes.size()));
  std::string text;
  for (const std::string& code : codes) text += (text.empty() ? "" : ", ") + code;
  return text;
}

}  // namespace

Markup class_unmeasured(const ClassComparison& comparison, const Words& words) {
  Markup nobody;
  std::vector<SaidOf> absent;
  for (const ClassMember& member : comparison.members) {
    const std::string& code = member.entry.code;
    if (!member.session || !member.session->effort.mean_rate) {
      nobody.open("li").element("strong", code).text(": ");
      if (!member.session)
        nobody.element("span", {{"lang", "en"}}, member.failure);
      else
        nobody.text(words("class.no_rate"));
      nobody.close();
      continue;
    }
    const SessionEffort& session = *member.session;
    for (const auto* reasons : {&session.effort.reasons, &session.reasons})
      for (const Reason& reason : *reasons) say(absent, reason.measure, reason.reason, code);
    if (session.recovery)
      for (const Reason& reason : session.recovery->reasons) say(absent, reason.measure, reason.reason, code);
  }
  Markup out;
  if (!nobody.blank()) out.element("p", words("class.without_result")).open("ul").add(nobody).close();
  if (absent.empty()) return out;
  out.element("p", words("class.absent")).open("ul");
  for (const SaidOf& said : together(absent)) {
    out.open("li");
    std::string names;
    for (const std::string& key : said.keys) names += (names.empty() ? "" : ", ") + absent_name(key, words);
    out.text(names + " (")
        .text(joined(said.codes, words))
        .text("): ")
        .element("span", {{"lang", "en"}}, said.text)
        .close();
  }
  return out.close();
}

}  // namespace pulsewright
