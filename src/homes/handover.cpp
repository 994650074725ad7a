#include "homes/handover.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "care/given.hpp"
#include "care/law.hpp"
#include "care/records.hpp"
#include "reference/rules.hpp"

namespace lampside::homes {
namespace {

using record::Handover;
using record::Litter;
using record::Pup;
using reference::Finding;
using reference::Reference;
using CivilDays = std::chrono::days;

bool said(const std::optional<std::string>& text) { return text && !text->empty(); }

/// "826 098 000 000 004" read aloud is the number without the spaces.
std::string digits(std::string_view number) {
  std::string out;
  for (const char c : number)
    if (c != ' ' && c != '-') out += c;
  return out;
}

std::optional<CivilDay> last_wormed(const Litter& litter, const care::Plan& plan, const Pup& pup, CivilDay until) {
  std::optional<CivilDay> last;
  const auto take = [&](CivilDay day) {
    if (day <= until && (!last || day > *last)) last = day;
  };
  for (const auto& dose : pup.doses)
    if (care::is_wormer(dose.what, litter)) take(litter.zone.day_of(dose.at));
  for (const auto& item : plan.items)
    if (item.about == pup.label && item.done && item.task.starts_with("worm")) take(*item.done);
  return last;
}

/// What is said of this pup's number, on paper and by the scanner, where it is not one and the same.
std::string chip_numbers(const Litter& litter, const Pup& pup) {
  std::set<std::string> on_paper;
  for (const auto& chip : litter.chips)
    if (chip.about == pup.label) on_paper.insert(digits(chip.what.number));
  std::string out;
  for (const auto& number : on_paper) out += (out.empty() ? "written down as " : " and as ") + number;
  const auto scanned = pup.handover ? digits(pup.handover->what.chip_read.value_or("")) : std::string{};
  const bool differs = on_paper.size() > 1 || (!scanned.empty() && !on_paper.empty() && !on_paper.contains(scanned));
  if (!differs) return {};
  return "pup " + pup.label + ": " + out + (scanned.empty() ? "" : "; scanned on the day as " + scanned);
}

}  // namespace

LegalAge legal_age(const Litter& litter, const Reference& reference) {
  const auto place = litter.facts.place.value_or("");
  const auto limit = care::law_limit(reference, place, "min_age", care::Stricter::later);
  for (const auto* law : care::laws_of(reference, place, "min_age"))
    if (limit && law->limit_d == *limit) return {*limit, std::string(law->says), law->source};
  const auto* usual = reference::rule_of(reference.day_rules, "LEFT_TOO_YOUNG");
  return {usual->limit, "8 weeks nearly everywhere; the law of your place is not known here", std::nullopt};
}

CivilDay legal_from(const Litter& litter, const Pup& pup, const LegalAge& age) {
  return litter.zone.day_of(pup.birth.at) + CivilDays{static_cast<int>(age.least.count())};
}

CivilDay ready_day(const Litter& litter, const Reference& reference, const care::Plan& plan, const Pup& pup) {
  CivilDay out = legal_from(litter, pup, legal_age(litter, reference));
  for (const auto& item : plan.items)
    if (item.about == pup.label && item.row && item.row->id == "handover")
      out = std::max(out, std::max(item.opens, item.until.value_or(item.opens)));
  return out;
}

std::vector<DayCheck> day_checks(const Litter& litter, const Reference& reference, const care::Plan& plan,
                                 const Pup& pup, Instant at, const Handover* handover) {
  std::vector<DayCheck> out;
  const auto today = litter.zone.day_of(at);
  const auto age = legal_age(litter, reference);
  const auto from = legal_from(litter, pup, age);
  const bool excepted = handover && said(handover->exception) && said(handover->vet);
  out.push_back(
      {"age", "Old enough by law", today >= from || excepted,
       fmt::format("day {} of its life; day {} asked for, {} ({})", (today - litter.zone.day_of(pup.birth.at)).count(),
                   age.least.count(), say_day(from), age.says) +
           (excepted ? fmt::format("; exception by {}: {}", *handover->vet, *handover->exception) : "")});

  const auto paper = digits(care::chip_of(litter, pup.label));
  const auto scanned = handover ? digits(handover->chip_read.value_or("")) : std::string{};
  DayCheck chip{"chip", "The chip scanned today is the one on paper", std::nullopt, {}};
  if (paper.empty()) {
    chip.says = "no chip is written down";
    if (handover) chip.holds = false;
  } else if (scanned.empty()) {
    chip.says = "on paper " + paper + "; not scanned yet";
    if (handover) chip.holds = false;
  } else {
    chip.holds = scanned == paper;
    chip.says = *chip.holds ? paper : "on paper " + paper + ", scanned " + scanned;
  }
  out.push_back(std::move(chip));

  const auto within = reference::parameter(reference, "handover_wormed_within_d");
  const auto wormed = last_wormed(litter, plan, pup, today);
  out.push_back({"wormed", fmt::format("Wormed within {:.0f} days", within),
                 wormed && static_cast<double>((today - *wormed).count()) <= within,
                 wormed ? "last on " + say_day(*wormed) : "no worming is written down"});

  const bool weighed = std::any_of(pup.weights.begin(), pup.weights.end(),
                                   [&](const auto& w) { return litter.zone.day_of(w.at) == today; });
  out.push_back({"weighed", "Weighed on the day", weighed,
                 weighed               ? "yes"
                 : pup.weights.empty() ? "never"
                                       : "last on " + say_day(litter.zone.day_of(pup.weights.back().at))});
  const auto yes = [&](std::string_view id, std::string asks, const std::optional<bool>& held) {
    out.push_back({id, std::move(asks), handover ? std::optional{held.value_or(false)} : std::nullopt,
                   held.value_or(false) ? "yes" : "not yet"});
  };
  yes("signed", "The contract is signed by both", handover ? handover->contract_signed : std::nullopt);
  yes("papers", "The folder and the papers are handed over", handover ? handover->papers : std::nullopt);
  return out;
}

Result<void> may_leave(const Litter& litter, const Reference& reference, const Pup& pup, const Handover& handover,
                       Instant at) {
  const auto age = legal_age(litter, reference);
  const auto from = legal_from(litter, pup, age);
  if (litter.zone.day_of(at) < from && !(said(handover.exception) && said(handover.vet)))
    return problem("HANDOVER_TOO_YOUNG",
                   fmt::format("pup {} may not leave before {}: {} {}", pup.label, say_day(from), age.says,
                               age.source ? fmt::format("({}, {})", age.source->work, age.source->locator) : ""),
                   "wait until then; if a vet makes an exception, write down the vet and the reason");
  const auto paper = digits(care::chip_of(litter, pup.label)), scanned = digits(handover.chip_read.value_or(""));
  if (!paper.empty() && !scanned.empty() && paper != scanned)
    return problem("HANDOVER_CHIP", fmt::format("the chip scanned is {}, the one on paper is {}", scanned, paper),
                   "scan once more, and look whether this is the right pup; if the paper is wrong, correct the chip "
                   "number first");
  return {};
}

std::vector<std::string> without_picture(const Litter& litter, Instant now) {
  std::vector<std::string> out;
  if (litter.photos.empty()) return out;
  const auto from = litter.zone.day_of(now) - CivilDays{6};
  for (const auto& pup : litter.pups) {
    const bool has = std::any_of(litter.photos.begin(), litter.photos.end(), [&](const auto& p) {
      return p.about == pup.label && litter.zone.day_of(p.at) >= from;
    });
    if (pup.in_box() && !has) out.push_back(pup.label);
  }
  return out;
}

std::vector<Ask> to_ask(const Litter& litter, const Reference& reference, Instant now) {
  const auto again = reference::parameter(reference, "follow_up_again_d");
  std::map<std::string, bool> agreed;
  for (const auto& consent : litter.consents)
    if (consent.what.what == "follow_up") agreed[consent.what.family] = consent.what.given;
  for (const auto& gone : litter.erased) agreed[gone.what.family] = false;
  std::vector<Ask> out;
  for (const auto& pup : litter.pups) {
    if (!pup.handover || !pup.handover->what.family || !agreed[*pup.handover->what.family] || pup.death) continue;
    Instant heard = pup.handover->at;
    for (const auto& news : pup.follow_ups) heard = std::max(heard, news.at);
    if (pup.follow_ups.empty() || reference::days_between(heard, now) >= again)
      out.push_back({pup.label, *pup.handover->what.family, litter.zone.day_of(heard)});
  }
  return out;
}

std::vector<Finding> folder_findings(const Litter& litter, const Reference& reference, const care::Plan& plan,
                                     Instant now) {
  std::vector<Finding> out;
  const auto count = [&](std::string_view code, const std::string& about, int n, const std::string& because,
                         std::optional<Instant> since = std::nullopt) {
    if (const auto* rule = reference::worst_reached(reference.count_rules, code, n))
      out.push_back(reference::found(*rule, about, because, since));
  };
  for (const auto& pup : litter.pups) {
    if (const auto numbers = chip_numbers(litter, pup); !numbers.empty()) count("CHIP_DIFFERS", "litter", 1, numbers);
    if (!pup.handover) continue;
    std::string open;
    int n = 0;
    for (const auto& check : day_checks(litter, reference, plan, pup, pup.handover->at, &pup.handover->what)) {
      // A pup too young, and a chip that is another, are told of by themselves.
      if (check.holds.value_or(false) || check.id == "age" || (check.id == "chip" && pup.handover->what.chip_read))
        continue;
      open += (n++ ? "; " : "") + check.asks + ": " + check.says;
    }
    count("HANDOVER_OPEN", "litter", n, "pup " + pup.label + ": " + open, pup.handover->at);
  }
  const auto missing = without_picture(litter, now);
  std::string labels;
  for (const auto& label : missing) labels += (labels.empty() ? "" : ", ") + label;
  count("PICTURES_MISSING", "litter", static_cast<int>(missing.size()),
        fmt::format("none in the last seven days of pup{} {}", missing.size() == 1 ? "" : "s", labels));
  for (const auto& ask : to_ask(litter, reference, now)) {
    const Days quiet{static_cast<double>((litter.zone.day_of(now) - ask.since).count())};
    if (const auto* rule = reference::worst_reached(reference.day_rules, "FOLLOW_UP_DUE", quiet))
      out.push_back(reference::found(
          *rule, "litter",
          fmt::format("pup {}: its family agreed to be asked; last heard of on {}", ask.pup, say_day(ask.since)),
          std::nullopt));
  }
  return out;
}

}  // namespace lampside::homes
