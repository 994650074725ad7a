#include "draw/charts.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>

#include "draw/axis.hpp"
#include "draw/palette.hpp"
#include "draw/svg.hpp"
#include "fixture.hpp"
#include "xml.hpp"

namespace lampside::draw {
namespace {

using test::read_xml;
using ::testing::Contains;
using ::testing::HasSubstr;

double value(const test::Element& e, const std::string& name) { return std::stod(e.attributes.at(name)); }

TEST(WeightChart, NoPupsIsSaid) {
  const auto document = read_xml(weight_chart_svg(test::litter(0, 0), {340, 280}));
  ASSERT_TRUE(document.well_formed);
  EXPECT_THAT(document.texts(), Contains("No weights yet"));
}

TEST(WeightChart, OneReadingIsAMarkerOnACalmScale) {
  const auto document = read_xml(weight_chart_svg(test::litter(1, 1), {340, 280}));
  ASSERT_TRUE(document.well_formed);
  EXPECT_THAT(document.texts(), Contains("1 red"));
  EXPECT_EQ(document.named("circle").size(), 1u);
  auto texts = document.texts();
  const std::set<std::string> different(texts.begin(), texts.end());
  EXPECT_EQ(different.size(), texts.size()) << "a tick label stands twice";
}

TEST(WeightChart, EveryPupHasALabelAtItsLineAndNoTwoLabelsOverlap) {
  for (const std::size_t pups : {2u, 12u, 14u}) {
    const auto document = read_xml(weight_chart_svg(test::litter(pups, 22), {720, 400}));
    ASSERT_TRUE(document.well_formed);
    std::vector<double> heights;
    for (const auto& e : document.named("text"))
      for (std::size_t n = 0; n < pups; ++n)
        if (e.text == std::to_string(n + 1) + " " + test::collars()[n]) heights.push_back(value(e, "y"));
    ASSERT_EQ(heights.size(), pups);
    std::sort(heights.begin(), heights.end());
    for (std::size_t i = 1; i < heights.size(); ++i)
      EXPECT_GE(heights[i] - heights[i - 1], 12 * 1.1) << pups << " pups";
  }
}

TEST(WeightChart, CrowdedLabelsShrinkInsteadOfOverlapping) {
  const auto document = read_xml(weight_chart_svg(test::litter(14, 22), {340, 200}));
  std::vector<std::pair<double, double>> labels;
  for (const auto& e : document.named("text"))
    if (value(e, "x") > 240 && e.text.find(' ') != std::string::npos)
      labels.emplace_back(value(e, "y"), value(e, "font-size"));
  ASSERT_EQ(labels.size(), 14u);
  std::sort(labels.begin(), labels.end());
  for (std::size_t i = 1; i < labels.size(); ++i)
    EXPECT_GE(labels[i].first - labels[i - 1].first, labels[i].second * 0.98);
}

TEST(WeightChart, ALongNameIsCutInsideThePicture) {
  auto chart = test::litter(2, 5);
  chart.pups[0].label = "Juniper's Firstborn of the Long Winter Night <b>&\"";
  const auto document = read_xml(weight_chart_svg(chart, {340, 280}));
  ASSERT_TRUE(document.well_formed);
  const SvgCanvas canvas{{340, 280}, "", ""};
  bool seen = false;
  for (const auto& e : document.named("text")) {
    if (!e.text.starts_with("Juniper's")) continue;
    seen = true;
    EXPECT_THAT(e.text, HasSubstr("…"));
    EXPECT_LE(value(e, "x") + canvas.text_width(e.text, {value(e, "font-size"), Weight::regular, kInk}), 340.0);
  }
  EXPECT_TRUE(seen);
}

TEST(WeightChart, TheChosenPupIsTheOnlyStrongOne) {
  auto chart = test::litter(5, 10);
  chart.highlight = "4";
  const auto document = read_xml(weight_chart_svg(chart, {340, 280}));
  std::vector<std::string> bold;
  for (const auto& e : document.named("text"))
    if (e.attributes.count("font-weight")) bold.push_back(e.text);
  EXPECT_EQ(bold, std::vector<std::string>{"4 green"});
  int thick = 0;
  for (const auto& e : document.named("polyline"))
    if (e.attributes.at("points").size() > 60 && value(e, "stroke-width") > 2) ++thick;
  EXPECT_EQ(thick, 1);
}

TEST(WeightChart, DaysAreTheKeepersCivilDays) {
  // Clocks went forward in this zone on the night of 29 March 2026: that day has 23 hours and is as wide as the others.
  auto chart = test::litter(1, 1);
  chart.zone = Zone{"Europe/Berlin", Minutes{60}, {{test::at("2026-03-29T01:00:00Z"), Minutes{120}, "CEST"}}};
  chart.born = test::at("2026-03-28T12:00:00+01:00");
  chart.pups[0].readings = {{chart.born, Grams{400}},
                            {test::at("2026-03-29T12:00:00+02:00"), Grams{430}},
                            {test::at("2026-03-30T12:00:00+02:00"), Grams{470}}};
  const auto marks = read_xml(weight_chart_svg(chart, {340, 280})).named("circle");
  ASSERT_EQ(marks.size(), 2u) << "the middle ones are thinned out";
  const auto line = read_xml(weight_chart_svg(chart, {340, 280})).named("polyline").at(0).attributes.at("points");
  double x[3], y[3];
  ASSERT_EQ(std::sscanf(line.c_str(), "%lf,%lf %lf,%lf %lf,%lf", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2]), 6);
  EXPECT_NEAR(x[1] - x[0], x[2] - x[1], 0.02);
}

TEST(WeightChart, FourteenPupsAllDifferWithoutColour) {
  std::set<std::string> looks;
  for (std::size_t n = 0; n < 14; ++n) {
    SvgCanvas canvas{{20, 20}, "", ""};
    draw_markers(canvas, std::vector<Point>{{10, 10}}, n, 4, kInk);
    canvas.polyline({{0, 0}, {1, 1}}, {kInk, 1, pen_of("red", n, 1).dashes});
    looks.insert(canvas.str());
  }
  EXPECT_EQ(looks.size(), 14u);
}

TEST(TemperatureChart, ShowsTheLimitTheLowestAndTheFirstPup) {
  const auto document = read_xml(temperature_chart_svg(test::temperatures(), {720, 320}));
  ASSERT_TRUE(document.well_formed);
  EXPECT_EQ(std::ranges::count(document.texts(), "37.5 °C"), 2) << "once as a tick, once at the limit's line";
  EXPECT_THAT(document.texts(), Contains("36.9 °C"));
  EXPECT_THAT(document.texts(), Contains("first pup 21:40"));
  EXPECT_THAT(document.texts(), Contains("Tue 24 Feb"));
}

TEST(TemperatureChart, InFahrenheit) {
  auto chart = test::temperatures();
  chart.unit = TemperatureUnit::fahrenheit;
  const auto document = read_xml(temperature_chart_svg(chart, {720, 320}));
  EXPECT_THAT(document.texts(), Contains("99.5 °F"));  // 37.5 °C, exactly
  EXPECT_THAT(document.texts(), Contains("98.4 °F"));  // 36.9 °C
}

TEST(TemperatureChart, NothingYet) {
  const auto document = read_xml(temperature_chart_svg({}, {340, 260}));
  ASSERT_TRUE(document.well_formed);
  EXPECT_THAT(document.texts(), Contains("No readings yet"));
}

TEST(Palette, CollarWordsAreFoundInWhatPeopleWrite) {
  EXPECT_EQ(swatch_of("Light-Blue"), swatch_of("light blue"));
  EXPECT_NE(swatch_of("light blue"), swatch_of("blue"));
  EXPECT_EQ(swatch_of("dark green with a bell"), swatch_of("DARK GREEN"));
  EXPECT_EQ(swatch_of("redwood"), std::nullopt);
  EXPECT_EQ(swatch_of("stripes"), std::nullopt);
  EXPECT_EQ(swatch_of(""), std::nullopt);
}

TEST(Palette, EveryLineIsSeenOnWhitePaper) {
  EXPECT_NEAR(contrast({0, 0, 0}, {255, 255, 255}), 21, 1e-9);  // WCAG 2.1: "contrast ratios can range from 1 to 21"
  EXPECT_LT(contrast(*swatch_of("yellow"), kPaper), 3);         // so darkening is needed at all
  for (std::size_t n = 0; n < test::collars().size(); ++n)
    EXPECT_GE(contrast(line_colour(test::collars()[n], n), kPaper), 3.0);
  for (std::size_t n = 0; n < 14; ++n) EXPECT_GE(contrast(line_colour("", n), kPaper), 3.0);
  EXPECT_GE(contrast(kMuted, kPaper), 4.5);
}

TEST(Palette, EveryClassTheChartWritesHasANightRule) {
  const std::string css = dark_css(".night");
  std::set<std::string> classes;
  for (const auto& e : read_xml(weight_chart_svg(test::litter(14, 22), {720, 400})).elements)
    if (e.name != "svg" && e.attributes.count("class")) classes.insert(e.attributes.at("class"));
  ASSERT_GT(classes.size(), 10u);
  for (const auto& names : classes)
    for (std::size_t at = 0; at < names.size();) {
      const auto end = std::min(names.find(' ', at), names.size());
      EXPECT_THAT(css, HasSubstr(".night ." + names.substr(at, end - at) + "{"));
      at = end + 1;
    }
}

RC_GTEST_PROP(Axis, HoldsItsValuesWithRoundTicks, ()) {
  const double low = *rc::gen::inRange(0, 9000), high = low + *rc::gen::inRange(0, 9000);
  const auto unit = *rc::gen::element(WeightUnit::grams, WeightUnit::ounces);
  const Axis axis = weight_axis(low, high, unit, *rc::gen::inRange(2, 12));
  const auto ticks = axis.ticks();
  RC_ASSERT(ticks.size() >= 2u);
  RC_ASSERT(ticks.size() <= 16u);
  RC_ASSERT(axis.low <= low + 1e-6);
  RC_ASSERT(axis.high >= high - 1e-6);
  RC_ASSERT(std::fabs(ticks.back() - axis.high) < 1e-6);
  const double unit_g = unit == WeightUnit::grams ? 1 : kGramsPerOunce / 8;
  for (const double t : ticks) RC_ASSERT(std::fabs(t / unit_g - std::round(t / unit_g)) < 1e-6);
}

RC_GTEST_PROP(Axis, SpreadKeepsOrderDistanceAndBounds, ()) {
  std::vector<double> wanted;
  for (const int w : *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 300))) wanted.push_back(w);
  const double gap = *rc::gen::inRange(1, 30);
  const auto placed = spread(wanted, gap, 0, 300);
  const double least = wanted.size() < 2 ? gap : std::min(gap, 300.0 / static_cast<double>(wanted.size() - 1));
  for (std::size_t i = 0; i < placed.size(); ++i) {
    RC_ASSERT(placed[i] >= -1e-6);
    RC_ASSERT(placed[i] <= 300 + 1e-6);
    for (std::size_t k = 0; k < placed.size(); ++k)
      if (wanted[i] < wanted[k]) RC_ASSERT(placed[k] - placed[i] >= least - 1e-6);
  }
}

TEST(Axis, SpreadLeavesAloneWhatIsApart) {
  EXPECT_EQ(spread({10, 50, 30}, 12, 0, 100), (std::vector<double>{10, 50, 30}));
  EXPECT_EQ(spread({50, 50}, 12, 0, 100), (std::vector<double>{44, 56}));
}

}  // namespace
}  // namespace lampside::draw
