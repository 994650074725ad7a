// What the litter cost and brought, to the last decimal: every entry of money and every deposit, added up.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/finding.hpp"

namespace lampside::homes {

/// What a deposit is called among the categories, coming in and given back.
inline constexpr std::string_view kDeposit = "deposit";
inline constexpr std::string_view kDepositBack = "deposit returned";

struct MoneyLine {
  record::EntryId id;
  Instant at;
  Cash amount;  ///< never negative
  record::MoneyWay way;
  std::string what_for, currency, family, paid_by, receipt, note;
  bool operator==(const MoneyLine&) const = default;
};
/// Of one currency ("": none was named). Different currencies are never added.
struct Totals {
  std::string currency;
  Cash in{0}, out{0};
  Cash cost{0};  ///< out, without deposits given back: what the litter cost
  struct Category {
    std::string what_for;
    Cash in{0}, out{0};
  };
  std::vector<Category> categories;  ///< most spent first
  [[nodiscard]] Cash balance() const { return in - out; }
};
struct Ledger {
  std::vector<MoneyLine> lines;  ///< by time
  std::vector<Totals> totals;    ///< by currency
  int born_alive = 0;
  int for_sale = 0;  ///< of them without those that died here and those the keeper picked
};

Ledger ledger(const record::Litter& litter, Instant now);

/// Cost shared by so many, up to the next cent: what each must bring so that nothing is lost. Codes: NO_DATA (no cost,
/// or nobody to share it).
reference::Assessed<Cash> share(Cash cost, int among);

/// The categories offered, in the order a litter meets them; the keeper may write others.
const std::vector<std::string_view>& categories();

}  // namespace lampside::homes
