// The JSON names of the journal's enums.
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "record/entry.hpp"

namespace lampside::record {

template <class E>
struct NoNames {};
template <class E>
inline constexpr NoNames<E> names{};

template <class E, std::size_t N>
using NameTable = std::array<std::pair<E, std::string_view>, N>;

template <>
inline constexpr NameTable<Sign, 27> names<Sign>{{{Sign::nesting, "nesting"},
                                                  {Sign::panting, "panting"},
                                                  {Sign::shivering, "shivering"},
                                                  {Sign::off_food, "off_food"},
                                                  {Sign::vomiting, "vomiting"},
                                                  {Sign::mucus, "mucus"},
                                                  {Sign::waters, "waters"},
                                                  {Sign::green_discharge, "green_discharge"},
                                                  {Sign::bleeding, "bleeding"},
                                                  {Sign::foul_discharge, "foul_discharge"},
                                                  {Sign::weak_straining, "weak_straining"},
                                                  {Sign::strong_straining, "strong_straining"},
                                                  {Sign::straining_stopped, "straining_stopped"},
                                                  {Sign::pup_visible, "pup_visible"},
                                                  {Sign::collapse, "collapse"},
                                                  {Sign::twitching, "twitching"},
                                                  {Sign::hard_hot_teat, "hard_hot_teat"},
                                                  {Sign::lochia, "lochia"},
                                                  {Sign::neglects_pups, "neglects_pups"},
                                                  {Sign::settled, "settled"},
                                                  {Sign::no_suck, "no_suck"},
                                                  {Sign::sucks_well, "sucks_well"},
                                                  {Sign::belly_taut, "belly_taut"},
                                                  {Sign::belly_soft, "belly_soft"},
                                                  {Sign::loose_stool, "loose_stool"},
                                                  {Sign::piled_up, "piled_up"},
                                                  {Sign::spread_out, "spread_out"}}};
template <>
inline constexpr NameTable<LabourStage, 5> names<LabourStage>{{{LabourStage::before, "before"},
                                                               {LabourStage::first_stage, "first_stage"},
                                                               {LabourStage::straining, "straining"},
                                                               {LabourStage::between_pups, "between_pups"},
                                                               {LabourStage::done, "done"}}};
template <>
inline constexpr NameTable<Sex, 2> names<Sex>{{{Sex::female, "female"}, {Sex::male, "male"}}};
template <>
inline constexpr NameTable<MatingMethod, 4> names<MatingMethod>{{{MatingMethod::natural, "natural"},
                                                                 {MatingMethod::fresh, "fresh"},
                                                                 {MatingMethod::chilled, "chilled"},
                                                                 {MatingMethod::frozen, "frozen"}}};
template <>
inline constexpr NameTable<Basis, 2> names<Basis>{{{Basis::base, "base"}, {Basis::salt, "salt"}}};
template <>
inline constexpr NameTable<ProductUse, 2> names<ProductUse>{
    {{ProductUse::wormer, "wormer"}, {ProductUse::other, "other"}}};
template <>
inline constexpr NameTable<AirPlace, 5> names<AirPlace>{{{AirPlace::under_lamp, "under_lamp"},
                                                         {AirPlace::cool_end, "cool_end"},
                                                         {AirPlace::room, "room"},
                                                         {AirPlace::basket, "basket"},
                                                         {AirPlace::mat, "mat"}}};
template <>
inline constexpr NameTable<Probe, 2> names<Probe>{{{Probe::flat, "flat"}, {Probe::globe, "globe"}}};
template <>
inline constexpr NameTable<FeedShare, 3> names<FeedShare>{
    {{FeedShare::none, "none"}, {FeedShare::top_up, "top_up"}, {FeedShare::full, "full"}}};
template <>
inline constexpr NameTable<FamilyStatus, 3> names<FamilyStatus>{
    {{FamilyStatus::waiting, "waiting"}, {FamilyStatus::withdrawn, "withdrawn"}, {FamilyStatus::placed, "placed"}}};
template <>
inline constexpr NameTable<PickOrder, 2> names<PickOrder>{
    {{PickOrder::deposit, "deposit"}, {PickOrder::match, "match"}}};
template <>
inline constexpr NameTable<ChoiceMade, 3> names<ChoiceMade>{
    {{ChoiceMade::pick, "pick"}, {ChoiceMade::pass, "pass"}, {ChoiceMade::release, "release"}}};
template <>
inline constexpr NameTable<MoneyWay, 2> names<MoneyWay>{{{MoneyWay::in, "in"}, {MoneyWay::out, "out"}}};
template <>
inline constexpr NameTable<Presentation, 2> names<Presentation>{
    {{Presentation::head_first, "head_first"}, {Presentation::tail_first, "tail_first"}}};
template <>
inline constexpr NameTable<FeedWay, 5> names<FeedWay>{{{FeedWay::nursing, "nursing"},
                                                       {FeedWay::bottle, "bottle"},
                                                       {FeedWay::syringe, "syringe"},
                                                       {FeedWay::tube, "tube"},
                                                       {FeedWay::spoon, "spoon"}}};
template <>
inline constexpr NameTable<CountMethod, 2> names<CountMethod>{
    {{CountMethod::xray, "xray"}, {CountMethod::ultrasound, "ultrasound"}}};
template <>
inline constexpr NameTable<Anchor, 3> names<Anchor>{
    {{Anchor::ovulation, "ovulation"}, {Anchor::lh_surge, "lh_surge"}, {Anchor::mating, "mating"}}};
template <>
inline constexpr NameTable<Keeping, 4> names<Keeping>{
    {{Keeping::kit, "kit"}, {Keeping::house, "house"}, {Keeping::to_make, "to_make"}, {Keeping::to_buy, "to_buy"}}};
template <>
inline constexpr NameTable<WeightUnit, 4> names<WeightUnit>{
    {{WeightUnit::grams, "g"}, {WeightUnit::ounces, "oz"}, {WeightUnit::kilograms, "kg"}, {WeightUnit::pounds, "lb"}}};
template <>
inline constexpr NameTable<TemperatureUnit, 2> names<TemperatureUnit>{
    {{TemperatureUnit::celsius, "C"}, {TemperatureUnit::fahrenheit, "F"}}};

template <class E>
constexpr std::string_view name_in(E value) {
  for (const auto& [v, n] : names<E>)
    if (v == value) return n;
  return "";
}

}  // namespace lampside::record
