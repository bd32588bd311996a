#include "pulsewright/projector_page.hpp"

#include "embedded_text.hpp"
#include "page/policy_hash.hpp"
#include "pulsewright/json.hpp"
#include "text/markup.hpp"
#include "words/words.hpp"

namespace pulsewright {
namespace {

/// What the script says, for it to read.
std::string words_of(const Words& words) {
  Json table;
  for (const char* key : {"title", "axis", "unmeasured", "lost", "left", "numbered", "count", "summary"})
    table[key] = words(std::string{"projector."} + key);
  for (const char* key : {"looking", "nothing_comes", "no_contact", "too_strong", "hold_still", "no_reserve"})
    table["signal"][key] = words(std::string{"projector.signal."} + key);
  for (const char* key : {"find_pulse", "rest", "warm_up", "work", "pause", "cool_down", "recovery", "over"}) {
    table["step"][key] = words(std::string{"projector.step."} + key);
    table["prompt"][key] = words(std::string{"projector.prompt."} + key);
  }
  return table.dump();
}

}  // namespace

ProjectorPage projector_page(Language language) {
  const Words words{language};
  const EmbeddedText& script = embedded_text("projector.js");
  const std::string table = words_of(words);
  Markup out;
  out.doctype().open("html", {{"lang", words.tag()}}).open("head");
  out.empty("meta", {{"charset", "utf-8"}});
  out.empty("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  out.empty("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
  out.element("title", words("projector.title"));
  for (const char* sheet : {"theme.css", "projector.css"}) out.open("style").add(embedded_text(sheet)).close();
  out.close().open("body").open("header");
  out.element("h1", {{"id", "step"}}, words("projector.title"));
  out.element("span", {{"id", "clock"}}, "");
  out.element("p", {{"id", "prompt"}}, "");
  out.element("p", {{"id", "trouble"}, {"role", "status"}}, "").close();
  out.open("main");
  out.open("svg",
           {{"id", "axis"}, {"role", "img"}, {"aria-label", words("projector.axis")}, {"aria-describedby", "summary"}});
  out.close().close();
  out.open("footer");
  out.element("span", {{"id", "summary"}}, "");
  for (const char* key : {"band", "now", "past"}) out.element("span", words(std::string{"projector.legend."} + key));
  out.close();
  out.open("script", {{"id", "words"}, {"type", "application/json"}}).add(EmbeddedText{"words", table}).close();
  out.open("script").add(script).close();
  out.close().close();
  return {out.bytes() + "\n",
          "default-src 'none'; style-src 'unsafe-inline'; connect-src 'self'; base-uri 'none'; "
          "form-action 'none'; frame-ancestors 'none'; script-src '" +
              policy_hash(script.text) + "'"};
}

}  // namespace pulsewright
