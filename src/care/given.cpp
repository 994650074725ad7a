#include "care/given.hpp"

#include <algorithm>
#include <set>

namespace lampside::care {
namespace {

const record::Product* product_named(const record::Litter& litter, const std::string& name) {
  for (const auto& p : litter.products)
    if (p.what.name == name) return &p.what;
  return nullptr;
}

}  // namespace

std::vector<std::string> actives_given(const record::Dose& dose, const record::Litter& litter) {
  if (dose.active) return actives_of(*dose.active);
  const auto* product = product_named(litter, dose.product);
  return product && product->active ? actives_of(*product->active) : std::vector<std::string>{};
}

bool same_medicine(const record::Dose& dose, const std::vector<std::string>& actives, const Label& label) {
  if (dose.product == label.name) return true;
  // "pyrantel" and "pyrantel embonate" are one: either name holds the other.
  return std::any_of(actives.begin(), actives.end(), [&](const std::string& a) {
    return names_active(label.actives, a) ||
           std::any_of(label.actives.begin(), label.actives.end(), [&](const auto& b) { return names_active({a}, b); });
  });
}

bool is_wormer(const record::Dose& dose, const record::Litter& litter) {
  const auto* product = product_named(litter, dose.product);
  return !product || product->use.value_or(record::ProductUse::wormer) == record::ProductUse::wormer;
}

Course course_of(const Doses& doses, const Label& label, const record::Litter& litter, Instant now) {
  std::set<CivilDay> days;
  const auto today = litter.zone.day_of(now);
  for (const auto& d : doses)
    if (const auto day = litter.zone.day_of(d.at);
        day < today && same_medicine(d.what, actives_given(d.what, litter), label))
      days.insert(day);
  Course out;
  for (auto day = days.rbegin(); day != days.rend(); ++day) {
    if (out.first && *out.first - *day != std::chrono::days{1}) break;
    if (!out.last) out.last = *day;
    out.first = *day;
    if (++out.days == label.days_in_row) break;
  }
  return out;
}

std::optional<Portion> portion_given(const record::Dose& dose, Measured in) {
  if (in == Measured::ml && dose.ml) return Portion{in, dose.ml->count()};
  if (in == Measured::tablets && dose.tablets) return Portion{in, dose.tablets->count()};
  if (in == Measured::grams && dose.grams) return Portion{in, dose.grams->count()};
  return std::nullopt;
}

}  // namespace lampside::care
