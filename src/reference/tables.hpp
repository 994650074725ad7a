// The trade's tables, typed. The rows are made at build time from reference/*.toml (one file a table).
// Field names there carry the unit (`_g`, `_c`, `_min`, `_h`, `_d`, `_pct`); here the type does.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "measure/quantity.hpp"
#include "measure/time.hpp"
#include "reference/citation.hpp"
#include "reference/finding.hpp"

namespace lampside::reference {

/// Days from a dated event to the first pup. `chosen` marks the row followed where sources differ.
struct DueInterval {
  std::string_view anchor;  ///< "lh_surge", "ovulation", "dioestrus", "mating", "progesterone_rise"
  std::string_view breed;   ///< empty: any
  Days mean_d;
  Days sd_d;
  bool chosen;
  std::string_view note;
  Citation source;
};

/// The mean course of rectal temperature before whelping.
struct TemperatureCourse {
  Hours before_h;
  Celsius celsius;
  Citation source;
};

struct ScoreCriterion {   ///< newborn score: one row an item
  std::string_view item;  ///< "heart", "breathing", "reflex", "movement", "colour"
  std::string_view asks;  ///< what to look at, lay
  std::string_view zero, one, two;
  Citation source;
};
struct ScoreBand {
  int from, to;
  std::string_view name;
  Citation source;
};

struct BirthWeightClass {
  std::string_view breed;
  Grams mean_g, sd_g;
  double litter_mean, litter_sd;
  Grams normal_from_g;
  Grams very_low_below_g;
  Percent dead_normal_pct, dead_low_pct, dead_very_low_pct;  ///< of live-born, by day 21
  Citation source;
};

/// Air temperature at pup level by age of the pups.
struct BoxTemperature {
  Days from_d, to_d;
  Celsius low_c, high_c;
  bool chosen;
  std::string_view line;    ///< what a keeper may follow instead of the chosen rows; empty: only shown
  std::string_view places;  ///< where it is the law; empty: a book's word
  std::string_view note;
  Citation source;
};
/// Rectal temperature by age; `about` "pup" or "dam" (for the dam: days since whelping).
struct RectalTemperature {
  std::string_view about;
  Days from_d, to_d;
  Celsius low_c, high_c;
  std::string_view note;
  Citation source;
};

/// A published figure that the chosen rule does not follow: shown beside it, never averaged away.
struct Dissent {
  std::string_view code;  ///< the finding code it speaks to
  std::string_view says;
  Citation source;
};

/// What waiting costs, as published: told after the reason of the flag it speaks to.
struct DelayFigure {
  std::string_view code;  ///< the finding code it speaks to
  std::string_view says;
  Citation source;
};

/// A limit met in print for a red flag: the lowest, the commonest or the highest, and what its author asks for there.
struct PublishedLimit {
  std::string_view code;
  std::string_view rank;  ///< "lowest", "commonest", "highest"
  Minutes limit_min;
  Level level;
  Citation source;
};

/// A number of a model (a spread, a share), by name, with what it means.
struct Parameter {
  std::string_view name;
  double value;
  std::string_view says;
  Citation source;
};
/// A foetal measure to days: at_zero + per_mm x millimetres, giving age since the LH surge or days before whelping.
struct Foetometry {
  std::string_view measure;  ///< "ICC" (sac), "BPD" (head), "BD" (body), "CRL", "DPTV"
  std::string_view breed;    ///< empty: any
  double over_kg, to_kg;     ///< the dam's weight class: over_kg < kg <= to_kg
  double at_zero, per_mm;
  bool gives_age;
  Days early_sd_d, late_sd_d;  ///< up to day 39 of gestation, and after
  bool chosen;
  Citation source;
};
struct ProgesteroneCourse {
  std::string_view around;  ///< "lh_surge": hours after it; "whelping": hours before it
  double hours;
  double ng_ml;
  Citation source;
};
/// How much longer (shorter, negative) a breed carries from the LH surge than the 65 days of all breeds.
struct GestationShift {
  std::string_view breed;
  Days shift_d;
  bool chosen;  ///< one row a breed is followed, the others are told beside it
  Citation source;
};
/// A sign makes whelping soon `times` likelier than without it, fading with that time constant.
struct SignLead {
  std::string_view sign;
  double times;
  Hours fades_h;
  Citation source;
};

/// One week of the pups' age: what a hand-fed pup gains, and the dam's milk.
struct FeedingWeek {
  int week;
  Percent gain_pct;  ///< a day
  double lactation;  ///< the factor of the formula of lactation (amounts.hpp)
  Citation source;
};
/// Energy a hand-fed pup needs in a day, by age, as one source prints it. `line`: the two that are followed are "low"
/// and "high"; "beside" is shown and not followed.
struct FeedingEnergy {
  std::string_view line;
  Days from_d, to_d;
  KcalPer100g kcal_100g, most_kcal_100g;  ///< one figure, or a range
  std::string_view note;
  Citation source;
};
/// Feeds in a day by age as one source prints them; `who` "weak": small or weak pups only.
struct FeedingTimes {
  Days from_d, to_d;
  std::string_view who;
  int feeds;
  bool chosen;
  std::string_view note;
  Citation source;
};
/// How finely a syringe of that size is marked.
struct Syringe {
  Millilitres holds_ml, mark_ml;
  Citation source;
};
/// What one source says on a topic, to be shown with it: two on one topic may contradict each other.
struct Saying {
  std::string_view topic;
  std::string_view says;
  Citation source;
};
/// A thing that must be in the house. How much: fixed + per_pup x pups + per_day x days from birth to `until_d`, or
/// what the course says ("replacer": milk for hand-fed pups, "dam_food": hers for four weeks of milk, "worming": a
/// course at 2, 4, 6 and 8 weeks for her and each pup).
struct SupplyItem {
  std::string_view item;  ///< its name, which the journal's `stock` entries use
  std::string_view also;  ///< another name it goes by in journals, or empty
  std::string_view group;
  std::string_view purpose;
  std::string_view unit;  ///< empty: pieces
  /// Words: "kit" (in the box beside the bed), "car", "make" (made at home, not bought), "essential" (told of on the
  /// first screen when missing), "vet_only" (never on a list; stands here so that the program can refuse it).
  std::string_view marks;
  int by_d, until_d;  ///< in the house by, and needed until: days from the day she may whelp; negative: before
  double fixed, per_pup, per_day;
  std::string_view course;
  double tried_within_d;  ///< to be tried, not longer ago than that before she is due; 0: nothing to try
  std::string_view note, differs;
  Citation source;
  [[nodiscard]] bool is(std::string_view mark) const { return marks.find(mark) != std::string_view::npos; }
};
/// One way of doing a thing where sources differ ("worming", "vaccination"): the keeper chooses one of its topic.
struct CareSet {
  std::string_view id, topic, name;
  bool chosen;           ///< followed until the keeper chooses
  std::string_view law;  ///< topic of a law that must allow it in the keeper's place; empty: none
  std::string_view says;
  Citation source;
};
/// One line of the plan of care. Days count from the civil day of the anchor, which is day 0.
struct CareTask {
  std::string_view id;       ///< permanent
  std::string_view set;      ///< the set it belongs to; empty: always in the plan
  std::string_view kind;     ///< "task" (ticked), "period" (a time that runs), "mark" (a milestone)
  std::string_view who;      ///< "pups" (each), "dam", "box", "keeper"
  std::string_view what;     ///< lay, in the imperative
  std::string_view anchor;   ///< "due", "mating", "whelping", "birth", "handover", "procedure", a task's id
  std::string_view on_d;     ///< best days, "14 28 42"
  Days early_d, late_d;      ///< how far it opens before and closes after the best day
  Days not_before_d;         ///< opens no earlier than this day
  Days gap_d;                ///< opens no earlier than this after the round before was done
  std::string_view until;    ///< rounds (or a period) end with this anchor ...
  Days until_d;              ///< ... plus so many days; empty: never
  std::string_view law;      ///< topic of the law that shapes it
  std::string_view law_use;  ///< "opens", "closes" (limits are taken from it), "exists" (only under it)
  bool hard;                 ///< too early is a fault, and it is asked for until it is done
  bool quiet;                ///< not told among the findings: another room tells it, or it is no duty
  std::string_view why;
  std::string_view others;  ///< what other sources say; empty: none read
  Citation source;
};
/// What the law of a place says on one topic. `checked`: the day a summary of it was read,
/// empty where it is from memory.
struct Law {
  std::string_view places;  ///< ISO 3166-1, or -2 for a part: "GB-SCT GB-WLS", "US-PA"
  std::string_view topic;   ///< "min_age", "chip_by", "docking", "dewclaws", "move_dam", ...
  std::string_view rule;    ///< "limit" (see limit_d), "banned", "allowed" (under what it says), "unclear"
  Days limit_d;
  std::string_view says;
  std::string_view checked;
  Citation source;
};
/// One field of a record that a law or a kennel club asks for.
struct RecordField {
  std::string_view regime, place;  ///< place empty: wherever the keeper belongs to such a club
  std::string_view part;           ///< "litter", "pup", "dam", "sale"
  std::string_view field;          ///< where the journal has it (care/records.cpp); "by_hand": nowhere
  std::string_view asks;
  Citation source;
};

/// A strength of an active met in print: what a typed strength is held against. Never a default.
struct PrintedStrength {
  std::string_view active;  ///< small letters
  std::string_view per;     ///< "ml", "tablet", "g"
  Milligrams mg;            ///< of the base
  Citation source;
};

/// One of the ten sub-tests of a pup's behaviour test, and what its two ends look like.
struct BehaviourCheck {
  std::string_view name;  ///< as the journal's `behaviour_test` calls it
  std::string_view title, asks, one, six;
  Citation source;
};
/// Where a purpose looks for its scores: how many of the ten lie in the band is counted, never averaged.
struct BehaviourBand {
  std::string_view purpose, title;
  int from, to;
  std::string_view says;
  Citation source;
};

using SpanRule = Rule<Minutes>;
using TemperatureRule = Rule<Celsius>;
using PercentRule = Rule<Percent>;
using DayRule = Rule<Days>;
using CountRule = Rule<int>;  ///< limit unused or a count

struct Reference {
  std::span<const DueInterval> due_intervals;
  std::span<const TemperatureCourse> temperature_course;
  std::span<const ScoreCriterion> score_criteria;
  std::span<const ScoreBand> score_bands;
  std::span<const BirthWeightClass> birth_weights;
  std::span<const BoxTemperature> box_temperatures;
  std::span<const RectalTemperature> rectal_temperatures;
  std::span<const Parameter> parameters;
  std::span<const Foetometry> foetometry;
  std::span<const ProgesteroneCourse> progesterone_course;
  std::span<const GestationShift> gestation_shifts;
  std::span<const SignLead> sign_leads;
  std::span<const FeedingWeek> feeding_weeks;
  std::span<const FeedingEnergy> feeding_energy;
  std::span<const FeedingTimes> feeding_times;
  std::span<const Syringe> syringes;
  std::span<const Saying> sayings;
  std::span<const SupplyItem> supplies;
  std::span<const CareSet> care_sets;
  std::span<const CareTask> care_tasks;
  std::span<const Law> laws;
  std::span<const RecordField> record_fields;
  std::span<const PrintedStrength> strengths;
  std::span<const BehaviourCheck> behaviour_checks;
  std::span<const BehaviourBand> behaviour_bands;
  std::span<const SpanRule> span_rules;                ///< clocks: labour, temperature drop, weighing overdue
  std::span<const TemperatureRule> temperature_rules;  ///< dam and pup body temperature, box
  std::span<const PercentRule> percent_rules;          ///< weight change
  std::span<const DayRule> day_rules;                  ///< overdue, doubling
  std::span<const CountRule> count_rules;              ///< signs seen, scores, misfits
  std::span<const Dissent> dissents;
  std::span<const DelayFigure> delay_figures;
  std::span<const PublishedLimit> published_limits;
};

/// The tables compiled into the program.
const Reference& built_in();

/// The rows of one code, mildest limit first as they stand in the file.
template <class Limit>
std::vector<const Rule<Limit>*> rules_of(std::span<const Rule<Limit>> rules, std::string_view code) {
  std::vector<const Rule<Limit>*> out;
  for (const auto& r : rules)
    if (r.code == code) out.push_back(&r);
  return out;
}

/// A number of reference/parameters.toml. A name that is not there is our own slip: it stops the program.
double parameter(const Reference& reference, std::string_view name);

/// What is said on a topic, in the order of the tables.
std::vector<const Saying*> sayings_on(const Reference& reference, std::string_view topic);

/// The row of this breed, matched by its whole name, ignoring case; null when the table does not hold it.
const BirthWeightClass* birth_weight_class(const Reference& reference, std::string_view breed);

}  // namespace lampside::reference
