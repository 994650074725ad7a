#include "draw/svg.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "draw/charts.hpp"
#include "draw/lettering.hpp"
#include "draw/palette.hpp"
#include "fixture.hpp"
#include "xml.hpp"

namespace lampside::draw {
namespace {

using test::read_xml;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

TEST(Xml, TheReaderCanSayNo) {  // or "well-formed" below would mean nothing
  EXPECT_FALSE(read_xml("<svg><text>a & b</text></svg>").well_formed);
  EXPECT_FALSE(read_xml("<svg><text>a</svg>").well_formed);
  EXPECT_FALSE(read_xml("<svg>\x01</svg>").well_formed);
  EXPECT_TRUE(read_xml("<svg><text>a</text></svg>").well_formed);
}

TEST(Svg, APupsNameStaysText) {
  SvgCanvas canvas{{100, 100}, "<b>&\"", "it's <i>"};
  canvas.text({1, 2}, "<b>&\"'\n\x01\xFF", {10, Weight::regular, kInk}, Align::left);
  const auto document = read_xml(canvas.str());
  ASSERT_TRUE(document.well_formed) << canvas.str();
  EXPECT_THAT(document.texts(), Contains("<b>&\"' \uFFFD\uFFFD"));
  ASSERT_EQ(document.named("title").size(), 1u);
  EXPECT_EQ(document.named("title")[0].text, "<b>&\"");
  EXPECT_TRUE(document.named("b").empty());
}

TEST(Svg, PassesAStrictContentSecurityPolicyAndIsNamedForScreenReaders) {
  auto chart = test::litter(12, 22);
  chart.highlight = "3";
  const auto document = read_xml(weight_chart_svg(chart, {340, 280}));
  ASSERT_TRUE(document.well_formed);
  ASSERT_FALSE(document.elements.empty());
  const auto& svg = document.elements[0];
  EXPECT_EQ(svg.name, "svg");
  EXPECT_EQ(svg.attributes.at("role"), "img");
  EXPECT_EQ(svg.attributes.at("viewBox"), "0 0 340 280");
  EXPECT_EQ(document.elements.at(1).name, "title");
  EXPECT_EQ(document.elements.at(1).text, "Weights of Juniper's litter");
  EXPECT_THAT(document.elements.at(2).text, HasSubstr("3 yellow: 412 g to"));
  for (const auto& e : document.elements) {
    EXPECT_EQ(e.attributes.count("style"), 0u) << e.name;
    EXPECT_NE(e.name, "style");
    EXPECT_NE(e.name, "script");
    for (const auto& [name, value] : e.attributes) EXPECT_FALSE(name.starts_with("on")) << name;
  }
}

TEST(Svg, NumbersThatAreNoneDoNotBreakThePicture) {
  SvgCanvas canvas{{10, 10}, "t", ""};
  canvas.line({std::nan(""), 0}, {INFINITY, 1}, {kInk, 1, {1, 2}});
  canvas.polyline({{0, 0}}, {kInk, 1, {}});  // a single point is no line
  EXPECT_THAT(canvas.str(), HasSubstr("x1=\"0\" y1=\"0\" x2=\"0\" y2=\"1\""));
  EXPECT_THAT(canvas.str(), Not(HasSubstr("polyline")));
}

TEST(Svg, ShapesOfOneLookAreOneElement) {
  SvgCanvas canvas{{10, 10}, "t", ""};
  canvas.shapes({{{1, 2}, {3, 2}, {3, 4}}, {{5.25, 6}, {7, 6}, {7, 8}}}, kPaper, {kInk, 0.5, {}});
  const auto paths = read_xml(canvas.str()).named("path");
  ASSERT_EQ(paths.size(), 1u);
  EXPECT_EQ(paths[0].attributes.at("d"), "M1,2 3,2 3,4ZM5.3,6 7,6 7,8Z");
  EXPECT_EQ(paths[0].attributes.at("stroke-width"), "0.5");
  canvas.shapes({}, kPaper, {kInk, 1, {}});  // none is no element
  EXPECT_EQ(read_xml(canvas.str()).named("path").size(), 1u);
}

TEST(Svg, WidthsAreThoseOfInter) {
  const SvgCanvas canvas{{10, 10}, "t", ""};
  // hmtx of Inter-Regular.otf 4.0 (units per em 2048, here in thousandths): zero with tnum 648, i 237, W 949.
  EXPECT_NEAR(canvas.text_width("0", {1000, Weight::regular, kInk}), 648, 0.5);
  EXPECT_NEAR(canvas.text_width("iW", {1000, Weight::regular, kInk}), 237 + 949, 0.5);
  EXPECT_GT(canvas.text_width("weights", {10, Weight::bold, kInk}),
            canvas.text_width("weights", {10, Weight::regular, kInk}));
}

RC_GTEST_PROP(Svg, AnyTextGivesWellFormedXml, (const std::string& text)) {
  SvgCanvas canvas{{10, 10}, text, text};
  canvas.text({0, 0}, text, {}, Align::centre);
  RC_ASSERT(read_xml(canvas.str()).well_formed);
}

RC_GTEST_PROP(Lettering, FittedTextFits, (const std::string& text)) {
  const SvgCanvas canvas{{10, 10}, "", ""};
  const double width = *rc::gen::inRange(1, 200);
  RC_ASSERT(canvas.text_width(fit(canvas, text, {10, Weight::regular, kInk}, width), {10, Weight::regular, kInk}) <=
            width);
}

RC_GTEST_PROP(Lettering, WrappedLinesFit, ()) {
  const auto text = *rc::gen::container<std::string>(rc::gen::element('a', 'b', ' ', 'W', 'i'));
  const SvgCanvas canvas{{10, 10}, "", ""};
  const Font font{10, Weight::regular, kInk};
  const double width = *rc::gen::inRange(20, 200);
  for (const auto& line : wrap(canvas, text, font, width)) RC_ASSERT(canvas.text_width(line, font) <= width);
}

TEST(Lettering, WrapLosesNoWord) {
  const SvgCanvas canvas{{10, 10}, "", ""};
  std::string joined;
  const auto lines = wrap(canvas, "falling, or no gain  since yesterday: feed", {10, Weight::regular, kInk}, 70);
  for (const auto& line : lines) joined += (joined.empty() ? "" : " ") + line;
  EXPECT_GT(lines.size(), 2u);
  EXPECT_EQ(joined, "falling, or no gain since yesterday: feed");
}

TEST(Lettering, BrokenBytesAreShownNotPassedOn) {
  EXPECT_EQ(clean_utf8("Bj\xC3\xB6rn"), "Björn");
  EXPECT_EQ(clean_utf8("\xC0\xAF"), "\uFFFD\uFFFD");            // overlong "/"
  EXPECT_EQ(clean_utf8("\xED\xA0\x80"), "\uFFFD\uFFFD\uFFFD");  // a surrogate
  EXPECT_EQ(clean_utf8("a\xE2\x82"), "a\uFFFD\uFFFD");          // cut in the middle
  EXPECT_EQ(clean_utf8("\xF0\x9F\x90\xB6"), "🐶");
}

}  // namespace
}  // namespace lampside::draw
