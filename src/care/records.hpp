// Which fields of the records that laws and clubs ask for are filled for this litter.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::care {

struct FieldState {
  const reference::RecordField* field;
  int have = 0, of = 0;              ///< for a field of each pup: how many of how many; otherwise of one
  std::vector<std::string> missing;  ///< labels of the pups without it
  bool by_hand = false;              ///< the journal has no place for it: it is written on the paper by hand
  [[nodiscard]] bool complete() const { return !by_hand && have == of; }
};
struct Regime {
  std::string_view name;
  bool here = false;  ///< of the keeper's own place
  std::vector<FieldState> fields;
  [[nodiscard]] bool complete() const;  ///< but for what is written by hand
};

/// Every regime of the tables, those of the keeper's place first.
std::vector<Regime> record_fields(const record::Litter& litter, const reference::Reference& reference);

/// The last chip number written down for a pup or "dam"; empty: none.
std::string chip_of(const record::Litter& litter, std::string_view about);

}  // namespace lampside::care
