#include "homes/pup_facts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "care/records.hpp"
#include "homes/handover.hpp"
#include "measure/text.hpp"

namespace lampside::homes {
namespace {

using record::Litter;
using record::Pup;

bool begins_with_any(std::string_view task, std::initializer_list<std::string_view> names) {
  return std::any_of(names.begin(), names.end(), [&](std::string_view n) { return task.starts_with(n); });
}
bool of_health(std::string_view task) {
  return begins_with_any(task, {"worm", "vaccine", "lepto", "rabies", "litter_exam", "vet_check", "chip"});
}

std::string parent(const std::optional<record::Parent>& p) {
  if (!p) return {};
  std::string out = p->name.value_or("");
  if (p->breed && !p->breed->empty()) out += (out.empty() ? "" : ", ") + *p->breed;
  if (p->kg) out += (out.empty() ? "" : ", ") + say_number(p->kg->count(), 1) + " kg";
  return out;
}

std::string say_long(CivilDay day) {
  return fmt::format("{} {}", say_day(day), static_cast<int>(std::chrono::year_month_day{day}.year()));
}

}  // namespace

std::vector<Done> health_done(const Litter& litter, const care::Plan& plan, const Pup& pup) {
  std::vector<Done> out;
  std::vector<CivilDay> dosed;
  for (const auto& dose : pup.doses) {
    const auto day = litter.zone.day_of(dose.at);
    dosed.push_back(day);
    std::string what = dose.what.product;
    if (dose.what.active && *dose.what.active != dose.what.product) what += " (" + *dose.what.active + ")";
    out.push_back({day, what, dose.what.lot.value_or("")});
  }
  for (const auto& item : plan.items) {
    if (item.about != pup.label || !item.done || !of_health(item.task)) continue;
    // A round of worming that a dose ticked is that dose.
    if (item.task.starts_with("worm") && std::find(dosed.begin(), dosed.end(), *item.done) != dosed.end()) continue;
    std::string lot;
    for (const auto& done : litter.done)
      if (done.id == item.done_by) lot = done.note;
    out.push_back({*item.done, item.what, lot});
  }
  std::stable_sort(out.begin(), out.end(), [](const Done& a, const Done& b) { return a.day < b.day; });
  return out;
}

namespace {
std::vector<const care::Item*> not_done(const care::Plan& plan, const Pup& pup, bool past) {
  std::vector<const care::Item*> out;
  for (const auto& item : plan.items) {
    const bool over = item.done || item.state == care::State::missed || item.state == care::State::dropped;
    if (item.about == pup.label && !over && of_health(item.task) && item.ticked() &&
        (item.closes < plan.today && item.until.value_or(item.closes) < plan.today) == past)
      out.push_back(&item);
  }
  return out;
}
}  // namespace

std::vector<const care::Item*> health_ahead(const care::Plan& plan, const Pup& pup) {
  return not_done(plan, pup, false);
}
std::vector<const care::Item*> health_past(const care::Plan& plan, const Pup& pup) { return not_done(plan, pup, true); }

std::vector<const care::Item*> met(const care::Plan& plan, const Pup& pup) {
  std::vector<const care::Item*> out;
  for (const auto& item : plan.items)
    if (item.about == pup.label && item.done && begins_with_any(item.task, {"social_", "handling", "nails", "bath"}))
      out.push_back(&item);
  return out;
}

std::vector<Fact> pup_facts(const Litter& litter, const reference::Reference& reference, const care::Plan& plan,
                            const Pup& pup, Instant now) {
  std::vector<Fact> out;
  const auto add = [&](std::string name, std::string says) {
    if (!says.empty()) out.push_back({std::move(name), std::move(says)});
  };
  add("Breed", litter.breed());
  if (pup.birth.what.sex) add("Sex", *pup.birth.what.sex == record::Sex::male ? "dog" : "bitch");
  add("Colour", pup.birth.what.markings.value_or(""));
  add("Collar", pup.collar());
  add("Born", say_long(litter.zone.day_of(pup.birth.at)));
  add("Litter", fmt::format("{} born, {} living", litter.pups.size(),
                            std::count_if(litter.pups.begin(), litter.pups.end(),
                                          [](const Pup& p) { return p.born_alive() && !p.death; })));
  const auto unit = litter.units().weight;
  if (const auto* last = pup.last_weight(); last && last->at <= now)
    add("Weight", say(last->what.grams, unit) + " on " + say_long(litter.zone.day_of(last->at)));
  add("Dam", parent(litter.facts.dam));
  add("Sire", parent(litter.facts.sire));
  std::string done;
  for (const auto& d : health_done(litter, plan, pup))
    if (d.day <= litter.zone.day_of(now)) done += (done.empty() ? "" : "; ") + say_day(d.day) + ": " + d.what;
  add("Health so far", done.empty() ? "nothing written down yet" : done);
  add("Chip", care::chip_of(litter, pup.label).empty() ? "not yet" : "yes");
  const auto age = legal_age(litter, reference);
  const auto ready = ready_day(litter, reference, plan, pup);
  add("May leave from",
      say_long(ready) + fmt::format(", at {} days", (ready - litter.zone.day_of(pup.birth.at)).count()));
  add("The law there", age.source ? age.says : "");
  return out;
}

std::string pup_text(const Litter& litter, const reference::Reference& reference, const care::Plan& plan,
                     const Pup& pup, Instant now) {
  std::string out = "Pup " + pup.label + "\n\n";
  for (const auto& fact : pup_facts(litter, reference, plan, pup, now)) out += fact.name + ": " + fact.says + "\n";
  return out + "\nAs written down on " + say_long(litter.zone.day_of(now)) + ".\n";
}

}  // namespace lampside::homes
