// What the doses on record amount to, held against the labels on record.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "care/label.hpp"

namespace lampside::care {

using Doses = std::vector<record::Noted<record::Dose>>;

/// The actives a dose held: as written with it, else by the label of that name.
std::vector<std::string> actives_given(const record::Dose& dose, const record::Litter& litter);
/// The same product, or one that shares an active with it.
bool same_medicine(const record::Dose& dose, const std::vector<std::string>& actives, const Label& label);
/// A product whose label does not say otherwise counts as a wormer.
bool is_wormer(const record::Dose& dose, const record::Litter& litter);

/// The last treatment before today: its first and last day, and how many days in a row it had.
struct Course {
  std::optional<CivilDay> first, last;
  int days = 0;
};
Course course_of(const Doses& doses, const Label& label, const record::Litter& litter, Instant now);

/// So much of the product as the entry says; nothing when it says no amount, or one in another unit.
std::optional<Portion> portion_given(const record::Dose& dose, Measured in);

}  // namespace lampside::care
