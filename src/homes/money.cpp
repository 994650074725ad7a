#include "homes/money.hpp"

#include <algorithm>
#include <tuple>

#include "homes/order.hpp"

namespace lampside::homes {
namespace {

using record::MoneyWay;

Totals& of_currency(std::vector<Totals>& all, const std::string& currency) {
  for (auto& t : all)
    if (t.currency == currency) return t;
  all.emplace_back().currency = currency;
  return all.back();
}

Totals::Category& of_category(Totals& totals, const std::string& what_for) {
  for (auto& c : totals.categories)
    if (c.what_for == what_for) return c;
  totals.categories.emplace_back().what_for = what_for;
  return totals.categories.back();
}

}  // namespace

Ledger ledger(const record::Litter& litter, Instant now) {
  Ledger out;
  for (const auto& m : litter.money)
    if (m.at <= now)
      out.lines.push_back({m.id, m.at, m.what.amount, m.what.direction, m.what.what_for, m.what.currency.value_or(""),
                           m.what.family.value_or(""), m.what.paid_by.value_or(""), m.what.receipt.value_or(""),
                           m.note});
  for (const auto& d : litter.deposits)
    if (d.at <= now) {
      const bool back = d.what.returned.value_or(false);
      out.lines.push_back({d.id, d.at, d.what.amount, back ? MoneyWay::out : MoneyWay::in,
                           std::string(back ? kDepositBack : kDeposit), d.what.currency.value_or(""), d.what.family, "",
                           "", d.note});
    }
  std::sort(out.lines.begin(), out.lines.end(),
            [](const MoneyLine& a, const MoneyLine& b) { return std::tie(a.at, a.id) < std::tie(b.at, b.id); });
  for (const auto& line : out.lines) {
    auto& totals = of_currency(out.totals, line.currency);
    auto& category = of_category(totals, line.what_for);
    if (line.way == MoneyWay::in) {
      totals.in = totals.in + line.amount;
      category.in = category.in + line.amount;
    } else {
      totals.out = totals.out + line.amount;
      category.out = category.out + line.amount;
      if (line.what_for != kDepositBack) totals.cost = totals.cost + line.amount;
    }
  }
  std::sort(out.totals.begin(), out.totals.end(),
            [](const Totals& a, const Totals& b) { return a.currency < b.currency; });
  for (auto& t : out.totals)
    std::stable_sort(t.categories.begin(), t.categories.end(),
                     [](const auto& a, const auto& b) { return a.out > b.out; });
  const auto picks = order(litter, now);
  for (const auto& pup : litter.pups) {
    if (!pup.born_alive() || pup.birth.at > now) continue;
    ++out.born_alive;
    const bool kept = picks.owner(pup.label) == std::string(kKeeper);
    if (!(pup.death && pup.death->at <= now) && !kept) ++out.for_sale;
  }
  return out;
}

reference::Assessed<Cash> share(Cash cost, int among) {
  if (cost <= Cash{0}) return reference::NotAssessed{"NO_DATA", "no cost is written down"};
  if (among <= 0) return reference::NotAssessed{"NO_DATA", "no pup is there to share it"};
  const std::int64_t cents = 10LL * among;  // thousandths in a cent for each of them
  return Cash{(cost.thousandths() + cents - 1) / cents * 10};
}

const std::vector<std::string_view>& categories() {
  static const std::vector<std::string_view> kAll{"health tests of the dam",
                                                  "progesterone tests",
                                                  "stud fee",
                                                  "travel",
                                                  "ultrasound",
                                                  "x-ray",
                                                  "vet",
                                                  "supplies",
                                                  "food",
                                                  "vaccination",
                                                  "worming",
                                                  "microchips",
                                                  "registration",
                                                  "laundry and power",
                                                  "folders and packs",
                                                  "advertising",
                                                  "insurance",
                                                  "box, pens, scale, lamp",
                                                  "price of a pup"};
  return kAll;
}

}  // namespace lampside::homes
