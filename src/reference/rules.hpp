// Asking the rule rows: which of a code's limits has been reached.
#pragma once

#include <cmath>
#include <span>
#include <string_view>

#include "reference/tables.hpp"

namespace lampside::reference {

/// The last (worst) row of `code` for which `reached(limit)` holds, or nothing. Rows stand mildest first.
template <class Limit, class Reached>
const Rule<Limit>* worst_reached(std::span<const Rule<Limit>> rules, std::string_view code, Reached reached) {
  const Rule<Limit>* worst = nullptr;
  for (const auto& rule : rules)
    if (rule.code == code && reached(rule.limit)) worst = &rule;
  return worst;
}

/// The last (worst) row of `code` that `value` has reached, on the side the row itself says it acts on.
template <class Limit>
const Rule<Limit>* worst_reached(std::span<const Rule<Limit>> rules, std::string_view code, Limit value) {
  const Rule<Limit>* worst = nullptr;
  for (const auto& rule : rules)
    if (rule.code == code && reached(rule, value)) worst = &rule;
  return worst;
}

/// The only (or mildest) row of `code`, or nothing.
template <class Limit>
const Rule<Limit>* rule_of(std::span<const Rule<Limit>> rules, std::string_view code) {
  for (const auto& rule : rules)
    if (rule.code == code) return &rule;
  return nullptr;
}

inline Span to_span(Days d) { return Span{std::llround(d.count() * 86'400'000.0)}; }
inline double days_between(Instant from, Instant to) { return static_cast<double>((to - from).count()) / 86'400'000.0; }

}  // namespace lampside::reference
