// What the law of a place says, and the number of a microchip. The law's own text comes before anything here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "reference/tables.hpp"

namespace lampside::care {

/// The rows on a topic for this very place ("GB-ENG"), else for its country ("GB"). Several where sources differ.
std::vector<const reference::Law*> laws_of(const reference::Reference& reference, std::string_view place,
                                           std::string_view topic);

/// Whether every row allows it and a summary of it was read on a day that is known. No row, an unclear one or one from
/// memory is a no: what the law may forbid is not offered on a guess.
bool law_allows(const reference::Reference& reference, std::string_view place, std::string_view topic);

enum class Stricter { later, sooner };
/// The strictest limit in days, or nothing where no row has one.
std::optional<Days> law_limit(const reference::Reference& reference, std::string_view place, std::string_view topic,
                              Stricter stricter);

/// What a chip's number can be. Structure: ISO 11784 (15 digits: 3 of country or maker, 12 of the animal in 38 bits, so
/// at most 274877906943); 900-998 makers by ICAR; 999 for tests (from memory). There is no check digit: a slip of one
/// digit is not found here.
enum class ChipShape { country, maker, test, wrong_length, not_digits, out_of_range, no_such_prefix };
ChipShape chip_shape(std::string_view number);
/// "15 digits, maker's number", "14 digits instead of 15", ...
std::string say_chip(std::string_view number);
inline bool plausible(ChipShape s) { return s == ChipShape::country || s == ChipShape::maker; }

}  // namespace lampside::care
