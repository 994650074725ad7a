#include "rehearse/due.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "due/forecast.hpp"
#include "reference/rules.hpp"
#include "rehearse/rules.hpp"

namespace lampside::rehearse {
namespace {

/// A log score may not fall below this: one wrong date would decide the mean of thousands.
const double kFloor = std::log(1e-6);

struct RuleTrial {
  std::string_view rule;
  double sd_d, error_d, log_score;
};
/// One pregnancy: what the forecast said and what the rules said.
struct Trial {
  Story::Kind kind;
  bool assessed = false;
  bool conflict = false;
  double said_d = 0;  ///< days to go, as forecast
  bool in50 = false, in90 = false;
  double width90_d = 0, error_d = 0, log_score = 0;
  std::vector<RuleTrial> rules;
};

double log_score(const due::Forecast& f, Instant whelping) {
  const Span in = whelping - f.from + Minutes{30};
  const auto cell = in / std::chrono::hours{1};
  if (in < Span{0} || cell >= static_cast<long>(f.density.size())) return kFloor;
  return std::max(kFloor, std::log(std::max(24 * f.density[static_cast<std::size_t>(cell)], 1e-300)));
}

Trial trial(const reference::Reference& reference, World world, std::uint64_t seed) {
  Dice dice{seed};
  const Story s = story(reference, world, dice);
  Trial out{};
  out.kind = s.kind;
  const auto said = due::forecast(s.litter, reference, s.now);
  const auto* f = reference::value_of(said);
  if (!f) return out;
  out.assessed = true;
  out.said_d = reference::days_between(s.now, f->p50);
  out.conflict = !f->conflicts.empty();
  const auto within = [&](Instant a, Instant b) { return s.whelping >= a && s.whelping <= b; };
  out.in50 = within(f->p25, f->p75);
  out.in90 = within(f->p05, f->p95);
  out.width90_d = reference::days_between(f->p05, f->p95);
  out.error_d = std::abs(reference::days_between(f->p50, s.whelping));
  out.log_score = log_score(*f, s.whelping);
  for (const auto& rule : rules_for(s.litter, reference, s.now))
    out.rules.push_back({rule.rule, rule.sd_d, std::abs(reference::days_between(rule.median(s.now), s.whelping)),
                         std::max(kFloor, rule.log_density(s.whelping, s.now))});
  return out;
}

void add(Tally& to, const Trial& t) {
  to.n += 1, to.in50 += t.in50, to.in90 += t.in90, to.conflicts += t.conflict;
  to.width += t.width90_d, to.error += t.error_d, to.score += t.log_score;
}
/// A rule, and the forecast on the same pregnancies.
struct Against {
  Tally forecast;
  double error = 0, score = 0;
  void add(const Trial& t, const RuleTrial& r) {
    rehearse::add(forecast, t);
    error += r.error_d, score += r.log_score;
  }
};

std::string forecast_row(std::string_view name, const Tally& m) {
  return fmt::format("{:<28}{:>7}{:>8.1f}{:>8.1f}{:>9.2f}{:>9.2f}{:>9.2f}{:>12.1f}\n", name, m.n, 100 * m.per(m.in50),
                     100 * m.per(m.in90), m.per(m.width), m.per(m.error), m.per(m.score), 100 * m.per(m.conflicts));
}
std::string rule_row(std::string_view name, const Against& a) {
  const Tally& f = a.forecast;
  return fmt::format("{:<28}{:>7}{:>11.2f}{:>11.2f}{:>13.2f}{:>11.2f}\n", name, f.n, f.per(a.error), f.per(f.error),
                     f.per(a.score), f.per(f.score));
}

std::vector<Trial> all_trials(int pregnancies, unsigned seed, World world, const Progress& progress) {
  std::vector<Trial> out(static_cast<std::size_t>(std::max(pregnancies, 0)));
  const auto& reference = reference::built_in();
  share_out(
      out.size(),
      [&](std::size_t i, std::size_t) { out[i] = trial(reference, world, (std::uint64_t{seed} << 32) + i); }, progress);
  return out;
}

}  // namespace

Rehearsed rehearse(int pregnancies, unsigned seed, World world, const Progress& progress) {
  const auto trials = all_trials(pregnancies, seed, world, progress);

  std::string out = fmt::format(
      "{} pregnancies, seed {}; simulated spreads x {}, {:.0f} % of the dated clues wrong; asked 20 days to 1 hour "
      "before.\n\n",
      trials.size(), seed, world.stretch, 100 * world.gross);
  out += fmt::format("{:<28}{:>7}{:>8}{:>8}{:>9}{:>9}{:>9}{:>12}\n", "the forecast", "n", "50 %", "90 %", "90 % d",
                     "error d", "score", "conflict %");
  Tally all;
  std::array<Tally, 6> kinds{};
  std::array<Tally, 4> to_go{};
  int silent = 0;
  for (const Trial& t : trials) {
    if (!t.assessed) {
      ++silent;
      continue;
    }
    add(all, t);
    add(kinds[static_cast<std::size_t>(t.kind)], t);
    // By what the forecast said: sorted by the truth, the early ones would all be missed early and the late ones late.
    add(to_go[t.said_d > 7 ? 0 : t.said_d > 2 ? 1 : t.said_d > 1 ? 2 : 3], t);
  }
  out += forecast_row("all", all);
  constexpr std::array kKinds{"matings only", "matings and progesterone", "ovulation", "dioestrus", "LH surge",
                              "scan only"};
  for (std::size_t k = 0; k < kinds.size(); ++k) out += forecast_row(kKinds[k], kinds[k]);
  constexpr std::array kToGo{"said: over 7 days to go", "said: 2 to 7 days", "said: 1 to 2 days", "said: under 1 day"};
  for (std::size_t k = 0; k < to_go.size(); ++k) out += forecast_row(kToGo[k], to_go[k]);
  out += fmt::format("not assessed: {}\n\n", silent);

  out += fmt::format("{:<28}{:>7}{:>11}{:>11}{:>13}{:>11}\n", "on the same pregnancies", "n", "rule err d", "forecast",
                     "rule score", "forecast");
  constexpr std::array kRules{"first mating + 63",      "LH surge + 65",     "ovulation + 63",       "dioestrus + 57",
                              "progesterone rise + 65", "first scan's line", "first 37.5 C + 21.5 h"};
  for (const std::string_view name : kRules) {
    Against m;
    for (const Trial& t : trials)
      for (const RuleTrial& r : t.rules)
        if (r.rule == name) m.add(t, r);
    out += rule_row(name, m);
  }
  Against best;
  for (const Trial& t : trials) {
    // The best rule a careful keeper could pick: the one with the smallest published spread. The thermometer's is not
    // counted: it speaks of hours and is often wrong.
    const RuleTrial* pick = nullptr;
    for (const RuleTrial& r : t.rules)
      if (r.rule != kRules.back() && (!pick || r.sd_d < pick->sd_d)) pick = &r;
    if (pick) best.add(t, *pick);
  }
  out += rule_row("the best single rule", best);
  return {all, silent, std::move(out)};
}

std::string rehearse_due(int pregnancies, unsigned seed, const Progress& progress) {
  const auto half = [&](std::size_t before) -> Progress {
    if (!progress) return {};
    return [&progress, before](std::size_t done, std::size_t total) { progress(before * total + done, 2 * total); };
  };
  const auto believed = rehearse(pregnancies, seed, World{}, half(0));
  const auto worse = rehearse(pregnancies, seed, kPerturbed, half(1));
  return "AS THE FORECAST BELIEVES\n" + believed.table + "\nWORSE THAN IT BELIEVES\n" + worse.table +
         "\nerror: mean distance of the middle from the truth, days.\n"
         "score: mean ln of the density per day at the truth, not under ln 1e-6; higher is better.\n"
         "The rules too are told that she has not whelped yet.\n";
}

}  // namespace lampside::rehearse
