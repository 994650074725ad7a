// The pure parsers: what browsers send, and what an attacker might.
#include "server/urlencoded.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace lampside::server {
namespace {

using ::testing::Test;

std::string code_of(const auto& result) { return result ? "" : result.error().code; }

TEST(PercentDecode, ReadsEscapesAndPlus) {
  EXPECT_EQ(percent_decode("14+3%2F8%20oz", Plus::is_space).value(), "14 3/8 oz");
  EXPECT_EQ(percent_decode("a+b", Plus::is_plus).value(), "a+b");
  EXPECT_EQ(percent_decode("37%2c2%C2%B0", Plus::is_space).value(), "37,2°");
}

TEST(PercentDecode, RefusesWhatIsBroken) {
  for (const auto* broken : {"%", "%4", "%4g", "%g4", "100%", "%%41"})
    EXPECT_EQ(code_of(percent_decode(broken, Plus::is_space)), "FORM_PERCENT") << broken;
  EXPECT_EQ(code_of(percent_decode("a%00b", Plus::is_space)), "FORM_NUL");
  // Overlong slash, surrogate, above U+10FFFF, a lone continuation, a cut sequence.
  for (const auto* broken : {"%C0%AF", "%E0%80%AF", "%ED%A0%80", "%F4%90%80%80", "%80", "%E2%82"})
    EXPECT_EQ(code_of(percent_decode(broken, Plus::is_space)), "FORM_UTF8") << broken;
}

TEST(PercentDecode, DecodesOnceOnly) { EXPECT_EQ(percent_decode("%252e", Plus::is_space).value(), "%2e"); }

/// Any text: code points of every length in UTF-8.
std::string any_text() {
  std::string out;
  for (const auto point :
       *rc::gen::container<std::vector<std::uint32_t>>(rc::gen::inRange<std::uint32_t>(1, 0x110000))) {
    if (point < 0x80) {
      out += static_cast<char>(point);
    } else if (point < 0x800) {
      out += {static_cast<char>(0xC0 | (point >> 6)), static_cast<char>(0x80 | (point & 0x3F))};
    } else if (point < 0x10000) {
      if (point >= 0xD800 && point <= 0xDFFF) continue;
      out += {static_cast<char>(0xE0 | (point >> 12)), static_cast<char>(0x80 | ((point >> 6) & 0x3F)),
              static_cast<char>(0x80 | (point & 0x3F))};
    } else {
      out += {static_cast<char>(0xF0 | (point >> 18)), static_cast<char>(0x80 | ((point >> 12) & 0x3F)),
              static_cast<char>(0x80 | ((point >> 6) & 0x3F)), static_cast<char>(0x80 | (point & 0x3F))};
    }
  }
  return out;
}

RC_GTEST_PROP(PercentEncode, IsReadBackByBothReadings, ()) {
  const auto text = any_text();
  RC_ASSERT(valid_utf8(text));
  RC_ASSERT(percent_decode(percent_encode(text), Plus::is_space).value() == text);
  RC_ASSERT(percent_decode(percent_encode(text), Plus::is_plus).value() == text);
}

TEST(ParseForm, ReadsFields) {
  const auto form = parse_form("kind=weight&about=3&reading=14+3%2F8&note=&flag&&x=1&x=2").value();
  EXPECT_EQ(form.size(), 7U);
  EXPECT_EQ(form.find("reading")->second, "14 3/8");
  EXPECT_EQ(form.find("note")->second, "");
  EXPECT_EQ(form.find("flag")->second, "");
  EXPECT_EQ(form.count("x"), 2U);
  EXPECT_TRUE(parse_form("").value().empty());
  EXPECT_EQ(parse_form("a=b=c").value().find("a")->second, "b=c");
}

TEST(ParseForm, StopsAtItsLimits) {
  const FormLimits limits{.fields = 3, .name = 4, .value = 5};
  EXPECT_TRUE(parse_form("a=1&b=2&c=3", limits));
  EXPECT_EQ(code_of(parse_form("a=1&b=2&c=3&d=4", limits)), "FORM_TOO_MANY");
  EXPECT_TRUE(parse_form("abcd=12345", limits));
  EXPECT_EQ(code_of(parse_form("abcde=1", limits)), "FORM_TOO_LONG");
  EXPECT_EQ(code_of(parse_form("a=123456", limits)), "FORM_TOO_LONG");
  EXPECT_EQ(code_of(parse_form(std::string(200, 'a') + "=1")), "FORM_TOO_LONG");
}

TEST(ParsePath, CutsBeforeDecoding) {
  using Parts = std::vector<std::string>;
  EXPECT_EQ(parse_path("/l/a%2Fb/now").value(), (Parts{"l", "a/b", "now"}));
  EXPECT_EQ(parse_path("/").value(), Parts{});
  EXPECT_EQ(parse_path("/l/x/").value(), (Parts{"l", "x"}));
  EXPECT_EQ(parse_path("//l").value(), (Parts{"", "l"}));
  EXPECT_EQ(parse_path("/assets/../../etc").value(), (Parts{"assets", "..", "..", "etc"}));
  EXPECT_EQ(code_of(parse_path("http://elsewhere.example/")), "PATH_FORM");
  EXPECT_EQ(code_of(parse_path("")), "PATH_FORM");
  EXPECT_EQ(code_of(parse_path("/%00")), "FORM_NUL");
}

TEST(ParseCookies, TakesTheFirstOfEachName) {
  const auto cookies = parse_cookies(" a=1;b = two ; a=3; junk; =x;c=");
  EXPECT_EQ(cookies, (std::map<std::string, std::string>{{"a", "1"}, {"b", "two"}, {"c", ""}}));
}

RC_GTEST_PROP(Parsers, SurviveAnyBytes, (const std::string& bytes)) {
  if (const auto form = parse_form(bytes)) {
    for (const auto& [name, value] : *form) RC_ASSERT(valid_utf8(name) && valid_utf8(value));
  }
  (void)parse_path("/" + bytes);
  (void)parse_cookies(bytes);
}

}  // namespace
}  // namespace lampside::server
