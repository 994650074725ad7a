#include "due/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "reference/rules.hpp"

namespace lampside::due {
namespace {

using record::Litter;
using record::Noted;
using reference::DueInterval;
using reference::Reference;

using reference::days_between;
using reference::to_span;

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
    const auto low = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
    return low(x) == low(y);
  });
}

/// The breed's own row where one is published, else the row the tables choose for that anchor.
const DueInterval* row_for(const Reference& reference, std::string_view anchor, std::string_view breed) {
  const DueInterval* chosen = nullptr;
  for (const DueInterval& row : reference.due_intervals) {
    if (row.anchor != anchor) continue;
    if (!row.breed.empty() && same_word(row.breed, breed)) return &row;
    if (row.chosen) chosen = &row;
  }
  return chosen;
}

/// Chance that a standard normal exceeds x; accurate in the far tail, where overdue bitches are.
double beyond(double x) { return 0.5 * std::erfc(x / std::sqrt(2.0)); }
/// The x that a standard normal exceeds with that chance, by bisection.
double quantile_beyond(double chance) {
  double lo = -40, hi = 40;
  for (int i = 0; i < 200; ++i) {
    const double mid = (lo + hi) / 2;
    (beyond(mid) > chance ? lo : hi) = mid;
  }
  return (lo + hi) / 2;
}

struct Dated {
  std::string kind;
  Instant at;
  const DueInterval* row;
  std::string says;
};

template <class T>
const Noted<T>* last_of(const std::vector<Noted<T>>& v) { return v.empty() ? nullptr : &v.back(); }
template <class T>
const Noted<T>* first_of(const std::vector<Noted<T>>& v) { return v.empty() ? nullptr : &v.front(); }

/// The day progesterone first reached 1.5 ng/ml, when a lower reading in the four days before brackets it.
/// Log-linear between the two readings: the rise is a steady factor a day (Hollinshead & Hanlon 2019).
std::optional<Instant> progesterone_rise(const Litter& litter) {
  constexpr double kRise = 1.5;
  for (std::size_t i = 1; i < litter.progesterone.size(); ++i) {
    const auto& low = litter.progesterone[i - 1];
    const auto& high = litter.progesterone[i];
    const double a = low.what.ng_ml.count(), b = high.what.ng_ml.count();
    if (a >= kRise || b < kRise || a <= 0 || high.at - low.at > std::chrono::hours{96}) continue;
    const double part = std::log(kRise / a) / std::log(b / a);
    return low.at + Span{std::llround(part * static_cast<double>((high.at - low.at).count()))};
  }
  return std::nullopt;
}

std::vector<Dated> evidence(const Litter& litter, const Reference& reference) {
  std::vector<Dated> out;
  const std::string breed = litter.breed();
  const auto add = [&](std::string kind, std::string_view anchor, Instant at, std::string_view what) {
    const DueInterval* row = row_for(reference, anchor, breed);
    if (!row) return;
    out.push_back({std::move(kind), at, row,
                   fmt::format("{} {}, plus {} days (give or take {})", what, say_day(litter.zone.day_of(at)),
                               say_number(row->mean_d.count(), 1), say_number(row->sd_d.count(), 1))});
  };
  if (const auto* d = last_of(litter.dioestrus)) add("dioestrus", "dioestrus", d->at, "dioestrus began");
  if (const auto* d = last_of(litter.lh_surges)) add("lh_surge", "lh_surge", d->at, "LH surge");
  if (const auto* d = last_of(litter.ovulations)) add("ovulation", "ovulation", d->at, "ovulation judged");
  if (const auto rise = progesterone_rise(litter)) add("progesterone", "progesterone_rise", *rise, "progesterone rose");
  if (const auto* d = first_of(litter.matings)) add("mating", "mating", d->at, "first mating");
  return out;
}

}  // namespace

reference::Assessed<Forecast> forecast(const Litter& litter, const Reference& reference, Instant now) {
  if (litter.first_birth()) return reference::NotAssessed{"PAST", "she has whelped"};
  const auto dated = evidence(litter, reference);
  if (dated.empty())
    return reference::NotAssessed{"NO_DATA", "no mating, ovulation, LH surge, progesterone rise or dioestrus is recorded yet"};
  const auto best = std::min_element(dated.begin(), dated.end(), [](const Dated& a, const Dated& b) {
    return a.row->sd_d < b.row->sd_d;
  });
  const Instant mean = best->at + to_span(best->row->mean_d);
  const double sd = best->row->sd_d.count();
  const double gone = days_between(mean, now) / sd;  // she has not whelped yet: only what lies after now is possible
  const double left = beyond(gone);
  if (left < 1e-9)
    return reference::NotAssessed{"NO_REFERENCE", "she is later than any published figure reaches: ring your vet"};
  const auto at = [&](double p) { return mean + to_span(Days{quantile_beyond((1 - p) * left) * sd}); };
  const auto within = [&](double hours) {
    return 1 - beyond(days_between(mean, now + Span{std::llround(hours * 3'600'000)}) / sd) / left;
  };
  Forecast out{at(0.05), at(0.25), at(0.5), at(0.75), at(0.95), {within(6), within(12), within(24), within(48)}, {}, {}};
  for (const Dated& d : dated) {
    const Instant alone = d.at + to_span(d.row->mean_d);
    out.clues.push_back({d.kind, d.says, Hours{days_between(mean, alone) * 24}, &d == &*best ? 1.0 : 0.0, d.row->source});
    const double apart = std::fabs(days_between(mean, alone));
    if (apart > 3 * std::hypot(sd, d.row->sd_d.count()))
      out.conflicts.push_back({fmt::format("{} and {} are {} days apart: check the dates", best->says, d.says, say_number(apart, 1))});
  }
  return out;
}

}  // namespace lampside::due
