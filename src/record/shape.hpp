// What a table of fields is made of, and the limits several fields share.
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
inline constexpr Limits kMilkEnergy{0.1, 5, "kcal per ml as mixed, 0.1 to 5; the tin's label says it"};
inline constexpr Limits kCash{0, 1e9, "an amount of money is 0 or more: say by `direction` which way it went"};
inline constexpr Limits kSubTest{1, 6, "each part of the test is scored 1 to 6"};
inline constexpr Limits kStocked{0, 1e6, "an amount is 0 or more, at most 1000000: type how much is there"};

}  // namespace lampside::record
