// What the parts of the report share.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "exchange/report.hpp"

namespace lampside::exchange {

using record::Json;
using reference::Assessed;
using reference::NotAssessed;

/// Figures as people read them: 411.9999999 is 412. Four decimals are finer than any instrument here.
inline double rounded(double value) { return std::round(value * 1e4) / 1e4; }

inline Json not_assessed(std::string_view code, std::string_view why) { return {{"not_assessed", code}, {"why", why}}; }

template <class T, class F>
Json given(const Assessed<T>& assessed, F write) {
  if (const auto* value = reference::value_of(assessed)) return write(*value);
  const auto& none = std::get<NotAssessed>(assessed);
  return not_assessed(none.code, none.why);
}

inline Json source(const reference::Citation& c) {
  return {{"work", c.work}, {"locator", c.locator}, {"standing", reference::name_of(c.standing)}};
}

/// The report's "nest": warmth, lamp, milk by hand, turns, the dam's plate.
Json nest_to_json(const advice::Assessment& assessment, const record::Litter& litter);

}  // namespace lampside::exchange
