// One table of fields per kind: the codec, the plausibility checks and the JSON Schema are all read from it.
#pragma once

#include <optional>
#include <string_view>
#include <tuple>
#include <type_traits>

#include "record/entry.hpp"
#include "record/names.hpp"

namespace lampside::record {

/// What a number may be. Outside is implausible (a slip), not abnormal: it is refused with `advice`.
struct Limits {
  double low, high;
  std::string_view advice;
};
inline constexpr Limits kNoLimits{-1e300, 1e300, ""};

template <class Struct, class Value>
struct Field {
  std::string_view name;
  Value Struct::* member;
  Limits limits = kNoLimits;
};
template <class S, class V>
constexpr Field<S, V> field(std::string_view name, V S::* member, Limits limits = kNoLimits) {
  return {name, member, limits};
}

/// `kind` is the JSON name of the entry's kind (empty for nested structs), `fields` a tuple of Field.
/// A member of type std::optional is optional in the journal; every other is required.
template <class S>
struct Shape;

// What a member is, for the code that walks the tables.
template <class T>
struct is_optional : std::false_type {};
template <class T>
struct is_optional<std::optional<T>> : std::true_type {};
template <class T>
struct is_quantity : std::false_type {};
template <class Tag>
struct is_quantity<Quantity<Tag>> : std::true_type {};
template <class T>
concept HasNames = requires { names<T>.size(); };
template <class T>
concept Nested = requires { Shape<T>::fields; };

inline constexpr Limits kBodyTemperature{
    15, 45,
    "a body temperature lies between 15 and 45 °C: type 38.0 for thirty-eight, and for Fahrenheit add F, e.g. 98.9 F"};
inline constexpr Limits kAirTemperature{-30, 70,
                                        "air lies between -30 and 70 °C here: for Fahrenheit add F, e.g. 85 F"};
inline constexpr Limits kPupGrams{
    20, 60000, "a pup weighs between 20 g and 60 kg: check the unit and the point, e.g. 412 g or 14 3/8 oz"};
inline constexpr Limits kAnyGrams{
    20, 150000, "a dog weighs between 20 g and 150 kg: check the unit and the point, e.g. 412 g, 14 3/8 oz or 31.5 kg"};
inline constexpr Limits kDogKilograms{0.5, 150, "a grown dog weighs between 0.5 and 150 kg: give kilograms"};
inline constexpr Limits kTubGrams{0, 20000, "a tub weighs between 0 and 20 kg"};
inline constexpr Limits kScore{0, 2, "each part of the newborn score is 0, 1 or 2"};
inline constexpr Limits kLitterSize{0, 30, "between 0 and 30 pups"};
inline constexpr Limits kStocked{0, 1e6, "an amount is 0 or more, at most 1000000: type how much is there"};

template <>
struct Shape<Parent> {
  static constexpr std::string_view kind = "";
  static constexpr auto fields =
      std::tuple{field("name", &Parent::name), field("breed", &Parent::breed), field("born", &Parent::born),
                 field("kg", &Parent::kg, kDogKilograms),
                 field("parity", &Parent::parity, {0, 20, "between 0 and 20 litters before"})};
};
template <>
struct Shape<UnitChoice> {
  static constexpr std::string_view kind = "";
  static constexpr auto fields =
      std::tuple{field("weight", &UnitChoice::weight), field("temperature", &UnitChoice::temperature)};
};
template <>
struct Shape<Vet> {
  static constexpr std::string_view kind = "";
  static constexpr auto fields =
      std::tuple{field("phone", &Vet::phone), field("night_phone", &Vet::night_phone),
                 field("minutes_away", &Vet::minutes_away, {0, 1440, "minutes of driving, 0 to 1440"})};
};
template <>
struct Shape<LitterFacts> {
  static constexpr std::string_view kind = "litter";
  static constexpr auto fields = std::tuple{
      field("dam", &LitterFacts::dam),
      field("sire", &LitterFacts::sire),
      field("adult_kg", &LitterFacts::adult_kg, kDogKilograms),
      field("zone", &LitterFacts::zone),
      field("units", &LitterFacts::units),
      field("place", &LitterFacts::place),
      field("vet", &LitterFacts::vet),
      field("scale_g", &LitterFacts::scale_g, {0.01, 1000, "the smallest step the scale shows, 0.01 to 1000 g"})};
};
template <>
struct Shape<Mating> {
  static constexpr std::string_view kind = "mating";
  static constexpr auto fields = std::tuple{field("method", &Mating::method)};
};
template <>
struct Shape<LhSurge> {
  static constexpr std::string_view kind = "lh_surge";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<Ovulation> {
  static constexpr std::string_view kind = "ovulation";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<Dioestrus> {
  static constexpr std::string_view kind = "dioestrus";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<Progesterone> {
  static constexpr std::string_view kind = "progesterone";
  static constexpr auto fields =
      std::tuple{field("ng_ml", &Progesterone::ng_ml,
                       {0, 150, "ng/ml lies between 0 and 150; nmol/l is 3.18 times larger, divide by 3.18"})};
};
template <>
struct Shape<FoetalMeasure> {
  static constexpr std::string_view kind = "foetal_measure";
  static constexpr auto fields =
      std::tuple{field("measure", &FoetalMeasure::measure),
                 field("mm", &FoetalMeasure::mm, {1, 250, "millimetres, 1 to 250; multiply centimetres by 10"})};
};
template <>
struct Shape<PupCount> {
  static constexpr std::string_view kind = "pup_count";
  static constexpr auto fields =
      std::tuple{field("method", &PupCount::method), field("pups", &PupCount::pups, kLitterSize),
                 field("at_least", &PupCount::at_least)};
};
template <>
struct Shape<EarlierLitter> {
  static constexpr std::string_view kind = "earlier_litter";
  static constexpr auto fields = std::tuple{
      field("from", &EarlierLitter::from),
      field("days", &EarlierLitter::days, {45, 80, "days from that event to whelping, 45 to 80"}),
      field("born_alive", &EarlierLitter::born_alive, kLitterSize),
      field("stillborn", &EarlierLitter::stillborn, kLitterSize),
      field("weaned", &EarlierLitter::weaned, kLitterSize),
      field("gain_pct", &EarlierLitter::gain_pct,
            {50, 150, "the gain of an earlier litter lies between 50 and 150 % of the usual; 100 is as usual"})};
};
template <>
struct Shape<Temperature> {
  static constexpr std::string_view kind = "temperature";
  static constexpr auto fields =
      std::tuple{field("celsius", &Temperature::celsius, kBodyTemperature), field("as_read", &Temperature::as_read)};
};
template <>
struct Shape<SignSeen> {
  static constexpr std::string_view kind = "sign";
  static constexpr auto fields = std::tuple{field("sign", &SignSeen::sign)};
};
template <>
struct Shape<Birth> {
  static constexpr std::string_view kind = "birth";
  static constexpr auto fields = std::tuple{
      field("order", &Birth::order, {1, 30, "1 for the first born"}),
      field("sex", &Birth::sex),
      field("grams", &Birth::grams, {20, 2000, "a newborn weighs between 20 g and 2 kg: check the unit and the point"}),
      field("alive", &Birth::alive),
      field("presentation", &Birth::presentation),
      field("placenta", &Birth::placenta),
      field("collar", &Birth::collar),
      field("markings", &Birth::markings),
      field("as_read", &Birth::as_read),
      field("airway_cleared", &Birth::airway_cleared),
      field("cord_tied", &Birth::cord_tied)};
};
template <>
struct Shape<PlacentaPassed> {
  static constexpr std::string_view kind = "placenta";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<NewbornScore> {
  static constexpr std::string_view kind = "newborn_score";
  static constexpr auto fields =
      std::tuple{field("heart", &NewbornScore::heart, kScore), field("breathing", &NewbornScore::breathing, kScore),
                 field("reflex", &NewbornScore::reflex, kScore), field("movement", &NewbornScore::movement, kScore),
                 field("colour", &NewbornScore::colour, kScore)};
};
template <>
struct Shape<Weight> {
  static constexpr std::string_view kind = "weight";
  static constexpr auto fields =
      std::tuple{field("grams", &Weight::grams, kAnyGrams), field("as_read", &Weight::as_read),
                 field("tare_g", &Weight::tare_g, kTubGrams)};
};
template <>
struct Shape<Feed> {
  static constexpr std::string_view kind = "feed";
  static constexpr auto fields =
      std::tuple{field("ml", &Feed::ml, {0, 1000, "millilitres of one feed, 0 to 1000"}), field("by", &Feed::by),
                 field("kcal_ml", &Feed::kcal_ml, {0.1, 5, "kcal per ml as mixed, 0.1 to 5; the tin's label says it"})};
};
template <>
struct Shape<DamMeal> {
  static constexpr std::string_view kind = "dam_meal";
  static constexpr auto fields = std::tuple{
      field("kcal", &DamMeal::kcal, {0, 20000, "kcal of one meal, 0 to 20000"}),
      field("grams", &DamMeal::grams, {0, 10000, "grams of one meal, 0 to 10000"}), field("food", &DamMeal::food)};
};
template <>
struct Shape<Air> {
  static constexpr std::string_view kind = "air";
  static constexpr auto fields =
      std::tuple{field("celsius", &Air::celsius, kAirTemperature), field("where", &Air::where),
                 field("humidity", &Air::humidity, {0, 100, "per cent, 0 to 100"})};
};
template <>
struct Shape<Lamp> {
  static constexpr std::string_view kind = "lamp";
  static constexpr auto fields = std::tuple{field("watts", &Lamp::watts, {1, 1000, "watts, 1 to 1000"}),
                                            field("cm", &Lamp::cm, {1, 500, "centimetres above the pups, 1 to 500"})};
};
template <>
struct Shape<Dose> {
  static constexpr std::string_view kind = "dose";
  static constexpr auto fields =
      std::tuple{field("product", &Dose::product),
                 field("active", &Dose::active),
                 field("mg_ml", &Dose::mg_ml, {0.001, 5000, "mg per ml, as the label says"}),
                 field("ml", &Dose::ml, {0.001, 1000, "millilitres given, 0.001 to 1000"}),
                 field("lot", &Dose::lot),
                 field("tablets", &Dose::tablets, {0.01, 100, "tablets given, 0.01 to 100; a quarter is 0.25"}),
                 field("grams", &Dose::grams, {0.001, 1000, "grams of the product given, 0.001 to 1000"}),
                 field("weight_g", &Dose::weight_g, kAnyGrams)};
};
template <>
struct Shape<DoseSkipped> {
  static constexpr std::string_view kind = "dose_skipped";
  static constexpr auto fields =
      std::tuple{field("product", &DoseSkipped::product), field("reason", &DoseSkipped::reason)};
};
template <>
struct Shape<Product> {
  static constexpr std::string_view kind = "product";
  static constexpr auto fields = std::tuple{
      field("name", &Product::name),
      field("active", &Product::active),
      field("strength", &Product::strength),
      field("strength_as", &Product::strength_as),
      field("dose_as", &Product::dose_as),
      field("salt_per_base", &Product::salt_per_base,
            {1, 10, "milligrams of salt that hold one of base, 1 to 10; the label gives both figures"}),
      field("dose", &Product::dose),
      field("for_dam", &Product::for_dam),
      field("at_least", &Product::at_least),
      field("at_most", &Product::at_most, {0.001, 1000, "ml, tablets or grams at once, 0.001 to 1000"}),
      field("min_age_d", &Product::min_age_d, {0, 3650, "days of age, 0 to 3650; two weeks are 14"}),
      field("min_kg", &Product::min_kg, {0.02, 150, "kilograms of dog, 0.02 to 150"}),
      field("repeat_d", &Product::repeat_d, {1, 400, "days from one treatment to the next, 1 to 400"}),
      field("days_in_row", &Product::days_in_row, {1, 60, "days one after the other, 1 to 60"}),
      field("parts", &Product::parts, {1, 4, "1 for whole tablets, 2 for halves, 4 for quarters"}),
      field("mark_ml", &Product::mark_ml, {0.001, 10, "millilitres between two marks of the syringe, 0.001 to 10"}),
      field("mark_g", &Product::mark_g, {0.0001, 100, "grams between two steps of the scale, 0.0001 to 100"}),
      field("lot", &Product::lot),
      field("opened", &Product::opened),
      field("expires", &Product::expires),
      field("keeps_open_d", &Product::keeps_open_d, {1, 3650, "days it keeps once opened, 1 to 3650"}),
      field("use", &Product::use),
      field("confirmed", &Product::confirmed)};
};
template <>
struct Shape<Done> {
  static constexpr std::string_view kind = "done";
  static constexpr auto fields = std::tuple{field("task", &Done::task)};
};
template <>
struct Shape<CareChoice> {
  static constexpr std::string_view kind = "care_choice";
  static constexpr auto fields =
      std::tuple{field("topic", &CareChoice::topic), field("set", &CareChoice::set), field("vet", &CareChoice::vet)};
};
template <>
struct Shape<CareEdit> {
  static constexpr std::string_view kind = "care_edit";
  static constexpr auto fields =
      std::tuple{field("task", &CareEdit::task),
                 field("shift_d", &CareEdit::shift_d, {-60, 60, "days later (earlier: negative), -60 to 60"}),
                 field("drop", &CareEdit::drop), field("why", &CareEdit::why)};
};
template <>
struct Shape<CareOwn> {
  static constexpr std::string_view kind = "care_own";
  static constexpr auto fields =
      std::tuple{field("what", &CareOwn::what), field("day", &CareOwn::day), field("last_day", &CareOwn::last_day)};
};
template <>
struct Shape<Later> {
  static constexpr std::string_view kind = "later";
  static constexpr auto fields =
      std::tuple{field("task", &Later::task), field("until", &Later::until), field("why", &Later::why)};
};
template <>
struct Shape<Microchip> {
  static constexpr std::string_view kind = "microchip";
  static constexpr auto fields =
      std::tuple{field("number", &Microchip::number), field("database", &Microchip::database)};
};
template <>
struct Shape<Procedure> {
  static constexpr std::string_view kind = "procedure";
  static constexpr auto fields = std::tuple{field("what", &Procedure::what), field("vet", &Procedure::vet)};
};
template <>
struct Shape<Wound> {
  static constexpr std::string_view kind = "wound";
  static constexpr auto fields = std::tuple{field("bleeding", &Wound::bleeding), field("swelling", &Wound::swelling),
                                            field("heat", &Wound::heat), field("discharge", &Wound::discharge)};
};
template <>
struct Shape<Death> {
  static constexpr std::string_view kind = "death";
  static constexpr auto fields = std::tuple{field("cause", &Death::cause)};
};
template <>
struct Shape<Departure> {
  static constexpr std::string_view kind = "departure";
  static constexpr auto fields = std::tuple{field("to", &Departure::to)};
};
template <>
struct Shape<Stock> {
  static constexpr std::string_view kind = "stock";
  static constexpr auto fields =
      std::tuple{field("item", &Stock::item),
                 field("have", &Stock::have, kStocked),
                 field("where", &Stock::where),
                 field("expires", &Stock::expires),
                 field("tested", &Stock::tested),
                 field("pack", &Stock::pack, {0.001, 1e6, "how much is in one pack, more than 0"}),
                 field("cost", &Stock::cost, {0, 1e6, "the price of one pack, 0 to 1000000"}),
                 field("need", &Stock::need, kStocked),
                 field("need_per_pup", &Stock::need_per_pup, kStocked),
                 field("days_before", &Stock::days_before, {-120, 120, "days before she is due, -120 to 120"}),
                 field("unit", &Stock::unit),
                 field("purpose", &Stock::purpose),
                 field("wanted", &Stock::wanted),
                 field("from", &Stock::from)};
};
template <>
struct Shape<ShopRun> {
  static constexpr std::string_view kind = "shop_run";
  static constexpr auto fields = std::tuple{field("day", &ShopRun::day)};
};
template <>
struct Shape<Suckled> {
  static constexpr std::string_view kind = "suckled";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<StageSaid> {
  static constexpr std::string_view kind = "labour_stage";
  static constexpr auto fields = std::tuple{field("stage", &StageSaid::stage)};
};
template <>
struct Shape<HouseLimit> {
  static constexpr std::string_view kind = "house_limit";
  static constexpr auto fields =
      std::tuple{field("code", &HouseLimit::code), field("min", &HouseLimit::min, {0, 2880, "minutes, 0 to 2880"}),
                 field("who", &HouseLimit::who)};
};
template <>
struct Shape<Photo> {
  static constexpr std::string_view kind = "photo";
  static constexpr auto fields = std::tuple{field("file", &Photo::file), field("sha256", &Photo::sha256)};
};
template <>
struct Shape<Note> {
  static constexpr std::string_view kind = "note";
  static constexpr std::tuple<> fields{};
};
template <>
struct Shape<Strike> {
  static constexpr std::string_view kind = "strike";
  static constexpr auto fields = std::tuple{field("strike", &Strike::strike)};
};
template <>
struct Shape<Other> {
  static constexpr std::string_view kind = "";
  static constexpr std::tuple<> fields{};
};

}  // namespace lampside::record
