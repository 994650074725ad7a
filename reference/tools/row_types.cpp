// What each kind of row holds. The order of the fields is the order of the members in src/reference/tables.hpp.
#include "table.hpp"

namespace lampside::tabulate {

namespace {

RowType rule(std::string_view name, std::string_view array, std::string_view limit_key, Kind limit) {
  return {name,
          array,
          {{"code", "code", Kind::text},
           {"level", "level", Kind::level},
           {limit_key, "limit", limit},
           {"words", "words", Kind::words},
           {"source", "source", Kind::source},
           {"acts", "acts", Kind::acts}},
          true};
}

}  // namespace

const std::vector<RowType>& row_types() {
  static const Field source{"source", "source", Kind::source};
  static const std::vector<RowType> types{
      {"DueInterval",
       "due_intervals",
       {{"anchor", "anchor", Kind::text},
        {"breed", "breed", Kind::maybe_text},
        {"mean_d", "mean_d", Kind::days},
        {"sd_d", "sd_d", Kind::days},
        {"chosen", "chosen", Kind::flag},
        {"note", "note", Kind::maybe_text},
        source}},
      {"TemperatureCourse",
       "temperature_course",
       {{"before_h", "before_h", Kind::hours}, {"mean_c", "celsius", Kind::celsius}, source}},
      {"ScoreCriterion",
       "score_criteria",
       {{"item", "item", Kind::text},
        {"asks", "asks", Kind::text},
        {"zero", "zero", Kind::text},
        {"one", "one", Kind::text},
        {"two", "two", Kind::text},
        source}},
      {"ScoreBand",
       "score_bands",
       {{"from", "from", Kind::whole}, {"to", "to", Kind::whole}, {"name", "name", Kind::text}, source}},
      {"BirthWeightClass",
       "birth_weights",
       {{"breed", "breed", Kind::text},
        {"mean_g", "mean_g", Kind::grams},
        {"sd_g", "sd_g", Kind::grams},
        {"litter_mean", "litter_mean", Kind::number},
        {"litter_sd", "litter_sd", Kind::number},
        {"normal_from_g", "normal_from_g", Kind::grams},
        {"very_low_below_g", "very_low_below_g", Kind::grams},
        {"dead_normal_pct", "dead_normal_pct", Kind::percent},
        {"dead_low_pct", "dead_low_pct", Kind::percent},
        {"dead_very_low_pct", "dead_very_low_pct", Kind::percent},
        source}},
      {"BoxTemperature",
       "box_temperatures",
       {{"from_d", "from_d", Kind::days},
        {"to_d", "to_d", Kind::days},
        {"low_c", "low_c", Kind::celsius},
        {"high_c", "high_c", Kind::celsius},
        {"chosen", "chosen", Kind::flag},
        {"note", "note", Kind::maybe_text},
        source}},
      {"RectalTemperature",
       "rectal_temperatures",
       {{"about", "about", Kind::text},
        {"from_d", "from_d", Kind::days},
        {"to_d", "to_d", Kind::days},
        {"low_c", "low_c", Kind::celsius},
        {"high_c", "high_c", Kind::celsius},
        {"note", "note", Kind::maybe_text},
        source}},
      rule("SpanRule", "span_rules", "limit_min", Kind::minutes),
      rule("TemperatureRule", "temperature_rules", "limit_c", Kind::celsius),
      rule("PercentRule", "percent_rules", "limit_pct", Kind::percent),
      rule("DayRule", "day_rules", "limit_d", Kind::days),
      rule("CountRule", "count_rules", "limit", Kind::whole),
      {"Dissent", "dissents", {{"code", "code", Kind::text}, {"says", "says", Kind::text}, source}},
  };
  return types;
}

}  // namespace lampside::tabulate
