// The state of one litter: what the journal says, corrections and strikes applied. Pure data, made by fold().
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "measure/time.hpp"
#include "record/entry.hpp"

namespace lampside::record {

/// A fact of the journal with its moment and the entry that says so.
template <class T>
struct Noted {
  Instant at;
  T what;
  EntryId id;
  std::string by;
  std::string note;
};
/// The same with whom it speaks of, for what may be about the dam, a pup or the whole litter ("").
template <class T>
struct Told : Noted<T> {
  std::string about;
};

struct Pup {
  std::string label;
  Noted<Birth> birth;
  int order = 0;  ///< 1 for the first born, by time of birth (entry's own `order` only breaks ties)
  std::vector<Noted<Weight>> weights;  ///< by time; the birth weight is the first, under the birth entry's id
  std::vector<Noted<Temperature>> temperatures;
  std::vector<Noted<NewbornScore>> scores;
  std::vector<Noted<Feed>> feeds;
  std::vector<Noted<Dose>> doses;
  std::vector<Noted<DoseSkipped>> doses_skipped;
  std::vector<Noted<SignSeen>> signs;
  std::vector<Noted<HandFeeding>> hand_feedings;
  std::vector<Noted<BehaviourTest>> behaviour_tests;
  std::vector<Noted<FollowUp>> follow_ups;
  std::optional<Noted<Handover>> handover;
  std::optional<Instant> suckled;  ///< first seen to suck, or fed
  std::optional<Noted<Death>> death;
  std::optional<Noted<Departure>> departure;

  [[nodiscard]] bool born_alive() const { return birth.what.alive.value_or(true); }
  /// Alive and still here.
  [[nodiscard]] bool in_box() const { return born_alive() && !death && !departure; }
  [[nodiscard]] std::string collar() const { return birth.what.collar.value_or(""); }
  [[nodiscard]] const Noted<Weight>* last_weight() const { return weights.empty() ? nullptr : &weights.back(); }
};

/// An entry that cannot be placed: kept, shown to a person, never dropped.
/// Codes: NEVER_BORN, BEFORE_BIRTH, BORN_TWICE, STRIKES_NOTHING, CORRECTS_NOTHING, TWO_CORRECTIONS, AFTER_DEATH,
/// DAM_SIGN (a sign of labour noted about a pup), BORN_DEAD (a weight of a pup born dead).
struct Misfit {
  EntryId id;
  std::string code;
  std::string why;
  bool operator==(const Misfit&) const = default;
};

/// Lighter than any grown dog: a dam's weight below it is a slip of the unit or the point.
inline constexpr Grams kLeastDam{500};

/// What a pup was called before it was given another label.
struct FormerLabel {
  std::string label;
  Instant until;    ///< when the other one was written down
  std::string now;  ///< the label it bears
};

struct Litter {
  // Compiled once, in fold.cpp: so many vectors cost the compiler a second or two wherever a litter is copied.
  Litter();
  Litter(const Litter&);
  Litter(Litter&&) noexcept;
  Litter& operator=(const Litter&);
  Litter& operator=(Litter&&) noexcept;
  ~Litter();

  std::string key;  ///< the journal's `litter`
  Zone zone;
  std::vector<FormerLabel> former_labels;  ///< of pups given another label, by the moment they lost it
  LitterFacts facts;                       ///< all "litter" entries laid over each other
  std::vector<Noted<Mating>> matings;
  std::vector<Noted<LhSurge>> lh_surges;
  std::vector<Noted<Ovulation>> ovulations;
  std::vector<Noted<Dioestrus>> dioestrus;
  std::vector<Noted<Progesterone>> progesterone;
  std::vector<Noted<FoetalMeasure>> foetal_measures;
  std::vector<Noted<PupCount>> counts;
  std::vector<Noted<EarlierLitter>> earlier;
  std::vector<Noted<Temperature>> dam_temperatures;
  std::vector<Noted<Weight>> dam_weights;
  std::vector<Noted<DamMeal>> dam_meals;
  std::vector<Noted<Dose>> dam_doses;
  std::vector<Noted<DoseSkipped>> dam_doses_skipped;
  std::vector<Noted<Product>> products;  ///< labels; of several with one name the latest
  std::vector<Noted<SignSeen>> signs;    ///< about the dam
  std::optional<Noted<Death>> dam_death;
  std::vector<Pup> pups;  ///< by time of birth
  std::vector<Noted<PlacentaPassed>> placentas;
  std::vector<Noted<Air>> air;
  std::vector<Noted<Lamp>> lamps;
  std::vector<Told<Done>> done;
  std::vector<Noted<CareChoice>> care_choices;
  std::vector<Told<CareEdit>> care_edits;
  std::vector<Told<CareOwn>> care_own;
  std::vector<Told<Later>> put_off;
  std::vector<Told<Microchip>> chips;
  std::vector<Told<Procedure>> procedures;
  std::vector<Told<Wound>> wounds;
  std::vector<Noted<Stock>> stock;
  std::vector<Noted<ShopRun>> shop_runs;
  std::vector<Noted<StageSaid>> stages_said;
  std::vector<Noted<HouseLimit>> house_limits;
  std::vector<Noted<SignSeen>> box_signs;  ///< of the pups as they lie
  std::vector<Noted<Milk>> milks;          ///< one of each name, the latest
  std::vector<Noted<Food>> foods;          ///< one of each name, the latest
  std::vector<Noted<Sensor>> sensors;      ///< one of each topic, the latest
  std::optional<Noted<TeatTurns>> turns;   ///< all laid over each other; `at` and `id` of the latest
  std::vector<Noted<Family>> families;     ///< one of each family, its entries laid over each other; first noted first
  std::vector<Noted<Deposit>> deposits;
  std::vector<Told<Choice>> choices;
  std::optional<Noted<PickRule>> pick_rule;
  std::vector<Noted<MoneyMoved>> money;
  std::vector<Told<Photo>> photos;
  std::optional<Noted<Contract>> contract;
  std::vector<Noted<Consent>> consents;
  std::vector<Noted<Erased>> erased;
  std::vector<Entry> notes;   ///< notes, and kinds this program does not interpret
  std::vector<Entry> log;     ///< every live entry by (at, written, id): the story to show
  std::vector<Entry> struck;  ///< struck out or corrected, kept readable
  std::vector<Misfit> misfits;

  [[nodiscard]] Units units() const {
    const UnitChoice chosen = facts.units.value_or(UnitChoice{});
    return {chosen.weight.value_or(WeightUnit::grams), chosen.temperature.value_or(TemperatureUnit::celsius)};
  }
  [[nodiscard]] std::string dam_name() const { return facts.dam && facts.dam->name ? *facts.dam->name : "the dam"; }
  [[nodiscard]] std::string breed() const { return facts.dam && facts.dam->breed ? *facts.dam->breed : ""; }
  [[nodiscard]] const Pup* pup(std::string_view label) const;
  /// Whom an entry speaks of, by the label borne now. A label is not identity: what was written under a former label
  /// while it was borne is about that pup, even where another bears it today.
  [[nodiscard]] const std::string& about(const Entry& entry) const;
  /// The moment the first pup was born, if any was.
  [[nodiscard]] std::optional<Instant> first_birth() const;
};

/// The zone named by the litter's entries, "UTC" when none does. For the edge, which looks the zone up. No other part
/// of the fold depends on the zone, so it may as well be set on a litter folded without one.
std::string zone_name(std::span<const Entry> entries, std::string_view litter);

/// The litters a journal speaks of, sorted.
std::vector<std::string> litters_in(std::span<const Entry> entries);

/// The state after these entries. Any order of arrival gives the same litter; an entry present twice counts once.
/// Entries of other litters are passed over. Never fails: what cannot be placed becomes a Misfit.
Litter fold(std::span<const Entry> entries, std::string_view litter, Zone zone);
/// The same of entries that lie here and there.
Litter fold(std::span<const Entry* const> entries, std::string_view litter, Zone zone);

/// The entries a person standing at `now` can know of (`at` not after `now`).
std::vector<Entry> known_at(std::span<const Entry> entries, Instant now);

}  // namespace lampside::record
