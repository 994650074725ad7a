#include "reference/tables.hpp"

#include <cstdlib>

#include <algorithm>

namespace lampside::reference {

namespace {

#include "tables.inc"

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_name(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) { return lower(x) == lower(y); });
}

}  // namespace

const Reference& built_in() { return kBuiltIn; }

const BirthWeightClass* birth_weight_class(const Reference& reference, std::string_view breed) {
  for (const auto& row : reference.birth_weights)
    if (same_name(row.breed, breed)) return &row;
  return nullptr;
}

std::vector<const Saying*> sayings_on(const Reference& reference, std::string_view topic) {
  std::vector<const Saying*> out;
  for (const auto& s : reference.sayings)
    if (s.topic == topic) out.push_back(&s);
  return out;
}

std::string_view name_of(Standing s) {
  switch (s) {
    case Standing::published:
      return "published";
    case Standing::secondary:
      return "secondary";
    case Standing::common_practice:
      return "common practice, no source";
    case Standing::from_memory:
      return "from memory";
  }
  return "";
}

std::string_view name_of(Level level) {
  switch (level) {
    case Level::emergency:
      return "emergency";
    case Level::call_vet:
      return "call_vet";
    case Level::act:
      return "act";
    case Level::watch:
      return "watch";
    case Level::note:
      return "note";
  }
  return "";
}

std::string_view name_of(Side side) {
  switch (side) {
    case Side::at_or_above:
      return "at or above";
    case Side::above:
      return "above";
    case Side::at_or_below:
      return "at or below";
    case Side::below:
      return "below";
  }
  return "";
}

double parameter(const Reference& reference, std::string_view name) {
  for (const auto& p : reference.parameters)
    if (p.name == name) return p.value;
  std::abort();
}

}  // namespace lampside::reference
