// One table of fields per kind: the codec, the plausibility checks and the JSON Schema are all read from it.
#pragma once

#include "record/shape.hpp"

namespace lampside::record {

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
  static constexpr auto fields = std::tuple{field("ml", &Feed::ml, {0, 1000, "millilitres of one feed, 0 to 1000"}),
                                            field("by", &Feed::by), field("kcal_ml", &Feed::kcal_ml, kMilkEnergy)};
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
                 field("humidity", &Air::humidity, {0, 100, "per cent, 0 to 100"}), field("sensor", &Air::sensor),
                 field("probe", &Air::probe)};
};
template <>
struct Shape<Lamp> {
  static constexpr std::string_view kind = "lamp";
  static constexpr auto fields =
      std::tuple{field("watts", &Lamp::watts, {1, 1000, "watts, 1 to 1000"}),
                 field("cm", &Lamp::cm, {1, 500, "centimetres above the pups, 1 to 500"}), field("off", &Lamp::off)};
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
struct Shape<Milk> {
  static constexpr std::string_view kind = "milk";
  static constexpr auto fields =
      std::tuple{field("name", &Milk::name), field("kcal_ml", &Milk::kcal_ml, kMilkEnergy),
                 field("powder_g", &Milk::powder_g, {0.1, 10000, "grams of powder, 0.1 to 10000"}),
                 field("water_ml", &Milk::water_ml, {1, 20000, "millilitres of water, 1 to 20000"}),
                 field("powder_kcal_g", &Milk::powder_kcal_g,
                       {1, 9, "kcal in one gram of powder, 1 to 9; a label that says 550 kcal per 100 g means 5.5"})};
};
template <>
struct Shape<Food> {
  static constexpr std::string_view kind = "food";
  static constexpr auto fields = std::tuple{
      field("name", &Food::name),
      field("kcal_100g", &Food::kcal_100g,
            {20, 900, "kcal in 100 g of the food as fed, 20 to 900; a label that says 3900 kcal per kg means 390"})};
};
template <>
struct Shape<HandFeeding> {
  static constexpr std::string_view kind = "hand_feeding";
  static constexpr auto fields = std::tuple{field("share", &HandFeeding::share), field("way", &HandFeeding::way)};
};
template <>
struct Shape<TeatTurns> {
  static constexpr std::string_view kind = "teat_turns";
  static constexpr auto fields = std::tuple{
      field("on", &TeatTurns::on), field("teats", &TeatTurns::teats, {1, 14, "teats that give milk, 1 to 14"}),
      field("session_min", &TeatTurns::session_min, {5, 240, "minutes at the teats in one turn, 5 to 240"}),
      field("night_from_h", &TeatTurns::night_from_h, {0, 23, "an hour of the day, 0 to 23"}),
      field("night_to_h", &TeatTurns::night_to_h, {0, 23, "an hour of the day, 0 to 23"})};
};
template <>
struct Shape<Sensor> {
  static constexpr std::string_view kind = "sensor";
  static constexpr auto fields =
      std::tuple{field("topic", &Sensor::topic), field("where", &Sensor::where), field("field", &Sensor::field),
                 field("unit", &Sensor::unit), field("off", &Sensor::off)};
};
template <>
struct Shape<Family> {
  static constexpr std::string_view kind = "family";
  static constexpr auto fields = std::tuple{field("family", &Family::family),   field("status", &Family::status),
                                            field("sex", &Family::sex),         field("colour", &Family::colour),
                                            field("purpose", &Family::purpose), field("earliest", &Family::earliest),
                                            field("why", &Family::why)};
};
template <>
struct Shape<Deposit> {
  static constexpr std::string_view kind = "deposit";
  static constexpr auto fields =
      std::tuple{field("family", &Deposit::family), field("amount", &Deposit::amount, kCash),
                 field("currency", &Deposit::currency), field("refundable", &Deposit::refundable),
                 field("returned", &Deposit::returned)};
};
template <>
struct Shape<Choice> {
  static constexpr std::string_view kind = "choice";
  static constexpr auto fields =
      std::tuple{field("made", &Choice::made), field("family", &Choice::family), field("why", &Choice::why)};
};
template <>
struct Shape<PickRule> {
  static constexpr std::string_view kind = "pick_rule";
  static constexpr auto fields =
      std::tuple{field("order", &PickRule::order),
                 field("keeper_first", &PickRule::keeper_first, {0, 30, "pups the keeper picks first, 0 to 30"}),
                 field("opens", &PickRule::opens)};
};
template <>
struct Shape<BehaviourTest> {
  static constexpr std::string_view kind = "behaviour_test";
  static constexpr auto fields = std::tuple{field("attraction", &BehaviourTest::attraction, kSubTest),
                                            field("following", &BehaviourTest::following, kSubTest),
                                            field("restraint", &BehaviourTest::restraint, kSubTest),
                                            field("dominance", &BehaviourTest::dominance, kSubTest),
                                            field("elevation", &BehaviourTest::elevation, kSubTest),
                                            field("retrieving", &BehaviourTest::retrieving, kSubTest),
                                            field("touch", &BehaviourTest::touch, kSubTest),
                                            field("sound", &BehaviourTest::sound, kSubTest),
                                            field("sight", &BehaviourTest::sight, kSubTest),
                                            field("stability", &BehaviourTest::stability, kSubTest)};
};
template <>
struct Shape<Handover> {
  static constexpr std::string_view kind = "handover";
  static constexpr auto fields =
      std::tuple{field("family", &Handover::family),          field("chip_read", &Handover::chip_read),
                 field("signed", &Handover::contract_signed), field("papers", &Handover::papers),
                 field("exception", &Handover::exception),    field("vet", &Handover::vet)};
};
template <>
struct Shape<MoneyMoved> {
  static constexpr std::string_view kind = "money";
  static constexpr auto fields =
      std::tuple{field("amount", &MoneyMoved::amount, kCash), field("direction", &MoneyMoved::direction),
                 field("for", &MoneyMoved::what_for),         field("currency", &MoneyMoved::currency),
                 field("family", &MoneyMoved::family),        field("paid_by", &MoneyMoved::paid_by),
                 field("receipt", &MoneyMoved::receipt)};
};
template <>
struct Shape<Contract> {
  static constexpr std::string_view kind = "contract";
  static constexpr auto fields = std::tuple{field("clauses", &Contract::clauses)};
};
template <>
struct Shape<Consent> {
  static constexpr std::string_view kind = "consent";
  static constexpr auto fields =
      std::tuple{field("family", &Consent::family), field("what", &Consent::what), field("given", &Consent::given)};
};
template <>
struct Shape<FollowUp> {
  static constexpr std::string_view kind = "follow_up";
  static constexpr auto fields =
      std::tuple{field("grams", &FollowUp::grams, kAnyGrams), field("news", &FollowUp::news)};
};
template <>
struct Shape<Erased> {
  static constexpr std::string_view kind = "erased";
  static constexpr auto fields = std::tuple{field("family", &Erased::family)};
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
