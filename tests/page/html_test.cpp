#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "markup.hpp"
#include "page/page.hpp"

namespace lampside::page {
namespace {

// Text becomes HTML only by escaping: a string of ours must not turn into Html by itself. The twin shows the probe
// works.
template <class T>
concept AddsToHtml = requires(Html html, T other) { html + other; };
static_assert(AddsToHtml<Html>);
static_assert(!AddsToHtml<std::string>);
static_assert(!AddsToHtml<std::string_view>);
static_assert(!std::is_constructible_v<Html, std::string>);

TEST(Html, EscapesWhatHasAMeaning) {
  EXPECT_EQ(Html::text(R"(<b>"a" & 'b'</b>)").str(), "&lt;b&gt;&quot;a&quot; &amp; &#39;b&#39;&lt;/b&gt;");
}

TEST(Html, EscapesAttributes) {
  EXPECT_EQ(element("input", {{"value", R"("><script>)"}}).str(), R"(<input value="&quot;&gt;&lt;script&gt;">)");
}

TEST(Html, VoidElementsHaveNoEndAndBareAttributesNoValue) {
  EXPECT_EQ(element("input", {{"required", kBare}}).str(), "<input required>");
  EXPECT_EQ(element("p", {}).str(), "<p></p>");
}

RC_GTEST_PROP(Html, NoTextBreaksOut, ()) {
  const auto s = *rc::gen::container<std::string>(
      rc::gen::oneOf(rc::gen::elementOf(std::string("<>&\"'= /")), rc::gen::arbitrary<char>()));
  const std::string page = "<!doctype html>" + element("p", {{"title", s}}, Html::text(s)).str();
  const auto markup = testing::read_markup(page);
  RC_ASSERT(markup.faults.empty());
  RC_ASSERT(markup.tags.size() == 1U);
}

TEST(MarkupReader, SeesFaults) {
  using testing::faults_of_page;
  using testing::read_markup;
  EXPECT_FALSE(read_markup("<!doctype html><p><b></p></b>").faults.empty());
  EXPECT_FALSE(read_markup("<!doctype html><p>a & b</p>").faults.empty());
  EXPECT_FALSE(read_markup("<!doctype html><p class=x></p>").faults.empty());
  EXPECT_FALSE(read_markup("<!doctype html><p>").faults.empty());
  EXPECT_TRUE(read_markup("<!doctype html><p class=\"x\">a &amp; b<br></p>").faults.empty());
  const std::string good =
      "<!doctype html><html><head><title>t</title></head><body><header></header><main><h1>x</h1>"
      "<form method=\"post\" action=\"/x\"><input type=\"hidden\" name=\"token\" value=\"t\">"
      "<input type=\"hidden\" name=\"id\" value=\"i\"><label for=\"a\">A</label><input id=\"a\" name=\"a\" "
      "type=\"text\">"
      "<button type=\"submit\">Go</button></form></main><footer></footer></body></html>";
  EXPECT_THAT(faults_of_page(good), ::testing::IsEmpty());
  const auto broken = [&](const std::string& from, const std::string& to) {
    std::string page = good;
    page.replace(page.find(from), from.size(), to);
    return !faults_of_page(page).empty();
  };
  EXPECT_TRUE(broken("<h1>", "<h1 style=\"color:red\">"));
  EXPECT_TRUE(broken("<h1>", "<h1 onclick=\"x\">"));
  EXPECT_TRUE(broken("<h1>x</h1>", "<h1>x</h1><script>x</script>"));
  EXPECT_TRUE(broken("name=\"token\"", "name=\"tocken\""));
  EXPECT_TRUE(broken("<label for=\"a\">A</label>", ""));
  EXPECT_TRUE(broken("/x\"", "https://x\""));
  EXPECT_TRUE(broken("<h1>x</h1>", "<h1 id=\"a\">x</h1>"));
}

}  // namespace
}  // namespace lampside::page
