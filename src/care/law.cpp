#include "care/law.hpp"

#include <algorithm>
#include <cstdint>

namespace lampside::care {
namespace {

using reference::Law;
using reference::Reference;

bool names(std::string_view places, std::string_view place) {
  while (!places.empty()) {
    const auto end = std::min(places.find(' '), places.size());
    if (places.substr(0, end) == place) return true;
    places.remove_prefix(std::min(end + 1, places.size()));
  }
  return false;
}

}  // namespace

std::vector<const Law*> laws_of(const Reference& reference, std::string_view place, std::string_view topic) {
  std::vector<const Law*> out;
  if (place.size() < 2) return out;
  for (const auto asked : {place, place.substr(0, 2)}) {
    for (const auto& law : reference.laws)
      if (law.topic == topic && names(law.places, asked)) out.push_back(&law);
    if (!out.empty()) break;
  }
  return out;
}

bool law_allows(const Reference& reference, std::string_view place, std::string_view topic) {
  const auto laws = laws_of(reference, place, topic);
  return !laws.empty() && std::all_of(laws.begin(), laws.end(), [](const Law* law) {
    return law->rule == "allowed" && !law->checked.empty() && law->source.standing != reference::Standing::from_memory;
  });
}

std::optional<Days> law_limit(const Reference& reference, std::string_view place, std::string_view topic,
                              Stricter stricter) {
  std::optional<Days> out;
  for (const auto* law : laws_of(reference, place, topic)) {
    if (!(law->limit_d > Days{0})) continue;
    if (!out || (stricter == Stricter::later ? law->limit_d > *out : law->limit_d < *out)) out = law->limit_d;
  }
  return out;
}

ChipShape chip_shape(std::string_view number) {
  if (number.empty() || number.find_first_not_of("0123456789") != std::string_view::npos) return ChipShape::not_digits;
  if (number.size() != 15) return ChipShape::wrong_length;
  std::uint64_t animal = 0;
  int prefix = 0;
  for (const char c : number.substr(0, 3)) prefix = prefix * 10 + (c - '0');
  for (const char c : number.substr(3)) animal = animal * 10 + static_cast<std::uint64_t>(c - '0');
  if (animal >= (std::uint64_t{1} << 38U)) return ChipShape::out_of_range;
  if (prefix == 0) return ChipShape::no_such_prefix;
  if (prefix == 999) return ChipShape::test;
  return prefix >= 900 ? ChipShape::maker : ChipShape::country;
}

std::string say_chip(std::string_view number) {
  switch (chip_shape(number)) {
    case ChipShape::country:
      return "15 digits, the first three a country's";
    case ChipShape::maker:
      return "15 digits, the first three a maker's";
    case ChipShape::test:
      return "999 in front is for test chips";
    case ChipShape::wrong_length:
      return std::to_string(number.size()) + " digits instead of 15";
    case ChipShape::not_digits:
      return "not digits only, so not an ISO chip";
    case ChipShape::out_of_range:
      return "the last twelve digits are above 274877906943, which no chip can hold";
    case ChipShape::no_such_prefix:
      return "000 in front is neither a country nor a maker";
  }
  return {};
}

}  // namespace lampside::care
