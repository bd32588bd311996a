#include "8_report/text/markup.hpp"

#include <gtest/gtest.h>

#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

TEST(Markup, NestsElementsAndClosesTheInnermostFirst) {
  Markup m;
  m.open("table", {{"class", "plain"}})
      .open("tr")
      .element("td", "1")
      .element("td", {{"colspan", "2"}}, "2")
      .close()
      .close();
  EXPECT_EQ(m.bytes(), "<table class=\"plain\"><tr><td>1</td><td colspan=\"2\">2</td></tr></table>");
}

TEST(Markup, EscapesTextAndValuesOfAttributes) {
  Markup m;
  m.element("p", {{"title", "\"a\" & 'b'"}}, "<script>1 < 2 && 3 > 2</script>");
  EXPECT_EQ(
      m.bytes(),
      "<p title=\"&quot;a&quot; &amp; &#39;b&#39;\">&lt;script&gt;1 &lt; 2 &amp;&amp; 3 &gt; 2&lt;/script&gt;</p>");
}

TEST(Markup, ElementsWithoutContentCloseThemselves) {
  Markup m;
  m.doctype().empty("br").empty("circle", {{"r", "2"}});
  EXPECT_EQ(m.bytes(), "<!doctype html>\n<br/><circle r=\"2\"/>");
}

TEST(Markup, TakesFinishedFragmentsOnlyAndAsTheyAre) {
  Markup inner, outer;
  EXPECT_TRUE(inner.blank());
  inner.element("b", "a & b");
  outer.open("p").add(inner).close();
  EXPECT_EQ(outer.bytes(), "<p><b>a &amp; b</b></p>");
  inner.open("i");
  EXPECT_THROW(outer.add(inner), Error);
  EXPECT_THROW(outer.close(), Error);
}

TEST(EscapeMarkup, DropsControlCharactersAndReplacesWhatIsNoUtf8) {
  EXPECT_EQ(escape_markup("a\x01\tb\nc\x7F"), "a\tb\nc");
  EXPECT_EQ(escape_markup("\xC3\xA9\xE9"), "\xC3\xA9\xEF\xBF\xBD");
  EXPECT_EQ(escape_markup("\xED\xA0\x80"), "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");  // a surrogate, byte by byte
  EXPECT_EQ(escape_markup(""), "");
}

}  // namespace
}  // namespace pulsewright
