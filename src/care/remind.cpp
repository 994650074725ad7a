// What the plan says on the screen "Now": a few findings, the same task of many pups in one line of one of them.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "care/law.hpp"
#include "care/plan.hpp"
#include "reference/rules.hpp"

namespace lampside::care {
namespace {

using record::Litter;
using reference::Finding;
using reference::Reference;

constexpr std::chrono::days kSoon{2};
constexpr std::size_t kMostSaid = 4;

bool loud(const Item& item) { return item.ticked() && !(item.row && item.row->quiet); }

/// What is told here is about the litter, with the pup named in the words: a pup whose nails are overdue is not unwell,
/// and is weighed and dosed as before. Only wounds, and a pup that left, are about the pup.
class Telling {
 public:
  Telling(const Plan& plan, const Litter& litter, const Reference& reference, Instant now)
      : plan_{plan}, litter_{litter}, reference_{reference}, now_{now} {}

  void reminders() {
    const auto due = grouped(plan_, [](const Item& i) { return loud(i) && i.due(); });
    for (const auto& [code, state] :
         {std::pair{"CARE_OVERDUE", State::overdue}, {"CARE_LAST_DAY", State::last_day}, {"CARE_OPEN", State::open}}) {
      std::vector<Group> these;
      for (const auto& group : due)
        if (group.first().state == state) these.push_back(group);
      told(code, these);
    }
    auto soon = grouped(plan_, [](const Item& i) { return loud(i) && i.state == State::waiting; });
    std::erase_if(soon, [&](const Group& g) {
      return g.first().opens > plan_.today + kSoon || (g.first().expected && g.first().row->anchor != "due");
    });
    told("CARE_SOON", soon);
  }

  void faults() {
    std::vector<Group> early = grouped(plan_, [](const Item& i) { return i.too_early.has_value(); });
    for (const auto& group : early)
      if (const auto* rule = reference::rule_of(reference_.count_rules, "CARE_TOO_EARLY"))
        out_.push_back(reference::found(*rule, "litter",
                                        say_group(litter_, group) + ": done " + *group.first().too_early,
                                        litter_.zone.start_of(*group.first().done)));
    for (const auto& pup : litter_.pups) left_too_young(pup);
    chips();
    wounds();
  }

  std::vector<Finding> all() { return std::move(out_); }

 private:
  void told(std::string_view code, const std::vector<Group>& groups) {
    const auto* rule = reference::worst_reached(reference_.count_rules, code, static_cast<int>(groups.size()));
    if (!rule || groups.empty()) return;
    std::string because;
    std::size_t said = 0;
    CivilDay first = groups.front().first().opens;
    for (const auto& group : groups) {
      const Item& item = group.first();
      first = std::min(first, item.state == State::overdue ? item.closes : item.opens);
      if (++said > kMostSaid) continue;
      because += (because.empty() ? "" : "; ") + say_group(litter_, group);
      if (item.state == State::overdue)
        because += fmt::format(" (last day was {})", say_day(item.closes));
      else if (item.state == State::open)
        because += fmt::format(" (until {})", say_day(item.closes));
      else if (item.state == State::waiting)
        because += fmt::format(" (from {})", say_day(item.opens));
    }
    if (said > kMostSaid) because += fmt::format("; and {} more", said - kMostSaid);
    const bool past = rule->level == reference::Level::act && code == "CARE_OVERDUE";
    out_.push_back(
        reference::found(*rule, "litter", because, past ? std::optional{litter_.zone.start_of(first)} : std::nullopt));
  }

  void left_too_young(const record::Pup& pup) {
    if (!pup.departure) return;
    // A vet made an exception: it stands with the handover.
    if (pup.handover && !pup.handover->what.exception.value_or("").empty() &&
        !pup.handover->what.vet.value_or("").empty())
      return;
    const auto limit = law_limit(reference_, plan_.place, "min_age", Stricter::later);
    const auto* rule = reference::rule_of(reference_.day_rules, "LEFT_TOO_YOUNG");
    if (!rule) return;
    const auto age = litter_.zone.day_of(pup.departure->at) - litter_.zone.day_of(pup.birth.at);
    const Days least = limit.value_or(rule->limit);
    if (static_cast<double>(age.count()) >= least.count()) return;
    out_.push_back(reference::found(
        *rule, pup.label,
        fmt::format("left on day {}; {} asks for day {}", age.count(),
                    limit ? "the law told of for " + plan_.place : "common practice", say_number(least.count(), 0)),
        pup.departure->at));
  }

  void chips() {
    std::map<std::string_view, std::string_view> borne;
    std::map<std::string_view, const record::Told<record::Microchip>*> last;
    for (const auto& chip : litter_.chips) last[chip.about] = &chip;
    for (const auto& [about, chip] : last) {
      const std::string& number = chip->what.number;
      const auto shape = chip_shape(number);
      std::string wrong;
      if (shape == ChipShape::out_of_range || shape == ChipShape::wrong_length || shape == ChipShape::no_such_prefix)
        wrong = say_chip(number);
      if (const auto [other, fresh] = borne.try_emplace(number, about); !fresh)
        wrong = fmt::format("{} bears the same number",
                            other->second == "dam" ? "the dam" : "pup " + std::string(other->second));
      const bool odd = wrong.empty() && !plausible(shape);
      const auto* rule = reference::rule_of(reference_.count_rules, wrong.empty() ? "CHIP_ODD" : "CHIP_WRONG");
      if (rule && (odd || !wrong.empty()))
        out_.push_back(reference::found(*rule, "litter",
                                        (about == "dam" ? std::string(about) : "pup " + std::string(about)) + ", " +
                                            number + ": " + (odd ? say_chip(number) : wrong),
                                        chip->at));
    }
  }

  /// The last look at each animal's wound, for two days.
  void wounds() {
    std::map<std::string_view, const record::Told<record::Wound>*> last;
    for (const auto& w : litter_.wounds) last[w.about] = &w;
    for (const auto& [about, look] : last) {
      if (now_ - look->at >= std::chrono::hours{48}) continue;
      const auto& w = look->what;
      const std::string who = about.empty() ? "litter" : std::string(about);
      if (w.bleeding.value_or(false))
        if (const auto* rule = reference::rule_of(reference_.count_rules, "WOUND_BLEEDING"))
          out_.push_back(reference::found(*rule, who, "seen " + say_day_time(litter_.zone, look->at), look->at));
      std::string signs;
      int n = 0;
      for (const auto& [seen, word] : {std::pair{w.swelling, "swelling"}, {w.heat, "heat"}, {w.discharge, "discharge"}})
        if (seen.value_or(false)) signs += (n++ == 0 ? "" : ", ") + std::string(word);
      if (const auto* rule = reference::worst_reached(reference_.count_rules, "WOUND_INFLAMED", n))
        out_.push_back(reference::found(
            *rule, who, fmt::format("{} seen {}", signs, say_day_time(litter_.zone, look->at)), look->at));
    }
  }

  const Plan& plan_;
  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> findings(const Plan& plan, const Litter& litter, const Reference& reference, Instant now,
                              bool busy) {
  Telling telling{plan, litter, reference, now};
  telling.faults();
  if (!busy) telling.reminders();
  return telling.all();
}

}  // namespace lampside::care
