#include "page/charts.hpp"

#include <algorithm>

#include "draw/due_strip.hpp"
#include "due/told.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

/// Two drawings, one for a narrow and one for a wide screen; the style sheet shows one of them. Letters stay readable.
template <class Draw>
Html two_sizes(Draw draw) {
  return element("div", {{"class", "chart-box narrow"}}, Html::from_svg(draw(draw::Size{340, 280}))) +
         element("div", {{"class", "chart-box wide"}}, Html::from_svg(draw(draw::Size{720, 400})));
}

}  // namespace

Html weight_chart(const View& view, const std::string& highlight, draw::Shows shows) {
  const auto born = view.litter.first_birth();
  if (!born) return {};
  draw::WeightChart chart;
  chart.born = *born;
  chart.zone = view.litter.zone;
  chart.unit = view.litter.units().weight;
  chart.highlight = highlight;
  chart.shows = shows;
  const std::string whose = highlight.empty() ? " of the litter" : " of pup " + highlight + " among its litter mates";
  chart.title = (shows == draw::Shows::weight             ? "Weights"
                 : shows == draw::Shows::percent_of_first ? "Percent of the first weight"
                                                          : "Gain a day") +
                whose;
  std::size_t readings = 0;
  for (const auto& pup : view.litter.pups) {
    draw::WeightSeries series{pup.label, pup.collar(), {}};
    const auto* standing = standing_of(view, pup.label);
    if (pup.born_alive() && shows == draw::Shows::gain_a_day && standing != nullptr) {
      // A gain from reading to reading is mostly noise: the curve behind the readings is drawn.
      for (const auto& point : standing->curve) series.readings.push_back({point.at, point.weight});
    } else if (pup.born_alive()) {
      for (const auto& w : pup.weights)
        if (w.at <= view.now) series.readings.push_back({w.at, w.what.grams});
    }
    if (pup.label == highlight && standing != nullptr)
      for (const auto& point : standing->curve)
        series.spread.push_back({point.at, point.weight - point.sd * 2.0, point.weight + point.sd * 2.0});
    readings = std::max(readings, series.readings.size());
    chart.pups.push_back(std::move(series));
  }
  if (readings < 2) return {};
  return two_sizes([&](draw::Size size) { return draw::weight_chart_svg(chart, size); });
}

Html dam_temperature_chart(const View& view) {
  draw::TemperatureChart chart;
  for (const auto& t : view.litter.dam_temperatures)
    if (t.at <= view.now) chart.readings.push_back({t.at, t.what.celsius});
  if (chart.readings.size() < 2) return {};
  const auto& rules = reference::built_in().temperature_rules;
  const auto drop = std::find_if(rules.begin(), rules.end(), [](const auto& r) { return r.code == "DAM_TEMP_DROP"; });
  if (drop != rules.end()) chart.limit = drop->limit;
  chart.first_pup = view.litter.first_birth();
  chart.zone = view.litter.zone;
  chart.unit = view.litter.units().temperature;
  chart.title = "Her temperature";
  return two_sizes([&](draw::Size size) { return draw::temperature_chart_svg(chart, size); });
}

Html due_strip(const View& view, const due::Forecast& f) {
  const draw::DueStrip strip{f.from, f.density,        due::told(f.p05), f.p25,           due::told(f.p50),
                             f.p75,  due::told(f.p95), view.now,         view.litter.zone};
  return element("div", {{"class", "chart-box narrow"}}, Html::from_svg(draw::due_strip_svg(strip, {340, 150}))) +
         element("div", {{"class", "chart-box wide"}}, Html::from_svg(draw::due_strip_svg(strip, {720, 190})));
}

}  // namespace lampside::page
