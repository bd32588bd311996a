#include "page_frame.hpp"

#include <openssl/evp.h>

#include <array>

#include "8_report/figure/figure.hpp"

namespace pulsewright {
namespace {

/// The hash of a script as a content policy names it: SHA-256 in base64 (W3C, Content Security Policy Level 3).
std::string policy_hash(std::string_view script) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  if (EVP_Digest(script.data(), script.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1)
    throw Error(ErrorCode::contract, "SHA-256 is not available in this OpenSSL");
  std::array<unsigned char, 2 * EVP_MAX_MD_SIZE> base64{};
  const int length = EVP_EncodeBlock(base64.data(), digest.data(), static_cast<int>(size));
  return "sha256-" + std::string(base64.begin(), base64.begin() + length);
}

Markup cautions_section(const Words& words) {
  Markup list;
  list.open("ul");
  for (const char* caution : {"caution.device", "caution.stop", "caution.formula", "caution.doubt", "caution.private"})
    list.element("li", words(caution));
  list.close();
  return page_section("cautions", words("section.cautions"), list);
}

}  // namespace

Markup page_section(const char* id, const std::string& heading, const Markup& contents) {
  const std::string heading_id = std::string(id) + "-heading";
  Markup out;
  out.open("section", {{"id", id}, {"aria-labelledby", heading_id}});
  out.element("h2", {{"id", heading_id}}, heading);
  return out.add(contents).close();
}

std::string page_frame(const std::string& title, const Markup& header, const Markup& main, const Words& words,
                       const Markup& attached) {
  const EmbeddedText& script = embedded_text("page.js");
  Markup out;
  out.doctype().open("html", {{"lang", words.tag()}}).open("head");
  out.empty("meta", {{"charset", "utf-8"}});
  out.empty("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  out.empty("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
  out.empty("meta", {{"http-equiv", "Content-Security-Policy"},
                     {"content", "default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src '" +
                                     policy_hash(script.text) + "'"}});
  out.element("title", title);
  for (const char* sheet : {"theme.css", "figure.css", "page.css"}) out.open("style").add(embedded_text(sheet)).close();
  out.close().open("body");
  out.element("a", {{"class", "skip"}, {"href", "#summary"}}, words("page.skip"));
  out.open("svg", {{"class", "definitions"}, {"width", "0"}, {"height", "0"}, {"aria-hidden", "true"}});
  out.add(figure_definitions()).close();
  out.open("header").add(header).close();
  out.open("main").add(main).close();
  out.open("footer").add(cautions_section(words));
  out.element("p", {{"class", "quiet"}}, words("page.made", {{"version", version()}})).close();
  out.add(attached);
  out.open("script").add(script).close();
  out.close().close();
  return out.bytes() + "\n";
}

}  // namespace pulsewright
