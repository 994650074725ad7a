// What several screens show of a pup: its place in the list, its forms.
#pragma once

#include "growth/standing.hpp"
#include "page/parts.hpp"

namespace lampside::page {

const growth::Standing* standing_of(const View& view, std::string_view label);

/// "412 g at 21:04", or that it cannot be told.
Html last_weight(const View& view, const growth::Standing& standing);
/// "gained 38 g in 13 h", or why not: for lists.
Html gain_in_short(const View& view, const growth::Standing& standing);
/// "gained 38 g since 08:10 (13 h)", or why not.
Html gain_said(const View& view, const growth::Standing& standing);
/// The whole litter as a table: pup, last weight, change, mark of the worst finding.
Html pups_table(const View& view);

/// The questions about weights that cannot be right; with a label those that touch that pup.
Html doubts_asked(const View& view, std::string_view label, std::string_view back);

/// The details of a birth, laid over what was written: sex, weight, collar, markings, alive, presentation, placenta.
Html birth_form(const View& view, const record::Pup& pup, std::string_view back);
/// The newborn score as five large choices.
Html score_form(const View& view, const record::Pup& pup, std::string_view back);
Html score_said(const View& view, const record::Pup& pup);
Html temperature_form(const View& view, const std::string& name, const std::string& about, std::string_view legend,
                      std::string_view back);

std::string unit_word(WeightUnit unit);       ///< "g", "oz"
std::string unit_word(TemperatureUnit unit);  ///< "°C", "°F"

}  // namespace lampside::page
