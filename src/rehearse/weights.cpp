#include "rehearse/weights.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "growth/alarm.hpp"
#include "growth/tracker.hpp"
#include "rehearse/dice.hpp"

namespace lampside::rehearse {
namespace {

using growth::Slip;

constexpr double kDays = 21;
constexpr double kNever = 1e9;
constexpr std::array kRules{"a day without gain",    "-4 % in two days", "-10 % from its best",
                            "not doubled by day 10", "ours: watch",      "ours: act"};
constexpr std::size_t kSlips = 8;

/// A pup that falters: from the onset on its pace goes to one value, then to another.
struct Course {
  double onset = kNever;
  double first = 0, first_days = 0, then = 0;
  [[nodiscard]] double pace(double day, double healthy) const {
    if (day < onset) return healthy;
    const double since = day - onset;
    const double aim = since < first_days ? first : then;
    return since < 0.5 ? healthy + (first - healthy) * since / 0.5 : aim;  // it takes half a day to come on
  }
};

struct Pup {
  double log_g, pace;  ///< true log weight; own pace over the litter's
  double birth_shown = 0, best = 0;
  double best_true = 0, lost_tenth = kNever;
  std::vector<double> shown;
  Course course;
  std::array<bool, kRules.size()> on{};
  std::array<double, kRules.size()> found;
};

struct Tally {
  struct PerRule {
    std::vector<double> delay_h;  ///< of each falterer, kNever when missed
    int before_tenth = 0, false_alarms = 0;
  };
  std::array<PerRule, kRules.size()> rules;
  std::array<int, kSlips> made{}, seen{}, named{}, later{};
  /// Slips that are plain: a swap over three spreads of weighing apart, a swap or a tub of over 15 % of the weight, a
  /// tub that is otherwise written down.
  struct Plain {
    int made = 0, seen = 0, later = 0;
  };
  std::array<Plain, 4> plain{};
  int false_questions = 0, falterers = 0;
  double weeks = 0;
  void add(const Tally& t) {
    for (std::size_t r = 0; r < rules.size(); ++r) {
      rules[r].delay_h.insert(rules[r].delay_h.end(), t.rules[r].delay_h.begin(), t.rules[r].delay_h.end());
      rules[r].before_tenth += t.rules[r].before_tenth, rules[r].false_alarms += t.rules[r].false_alarms;
    }
    for (std::size_t s = 0; s < kSlips; ++s)
      made[s] += t.made[s], seen[s] += t.seen[s], named[s] += t.named[s], later[s] += t.later[s];
    for (std::size_t k = 0; k < plain.size(); ++k)
      plain[k].made += t.plain[k].made, plain[k].seen += t.plain[k].seen, plain[k].later += t.plain[k].later;
    false_questions += t.false_questions, falterers += t.falterers, weeks += t.weeks;
  }
};

class Litter {
 public:
  Litter(const WeightsWorld& world, const growth::PaceModel& model, std::uint64_t seed)
      : world_{world}, model_{model}, dice_{seed}, tracker_{model, static_cast<std::size_t>(world.pups)} {}

  Tally run() {
    own_noise_ = dice_.uniform(0.010, 0.020);
    common_noise_ = dice_.uniform(0.005, 0.012);
    vigour_ = dice_.uniform(0.75, 1.15);
    tub_ = std::round(dice_.uniform(60, 300));
    for (int i = 0; i < world_.pups; ++i) {
      Pup p{std::log(world_.birth_g) + dice_.normal(0, 0.15), dice_.normal(0, 0.008), 0, 0, 0, kNever, {}, {}, {}, {}};
      p.found.fill(kNever);
      if (dice_.happens(0.1)) p.course = course();
      pups_.push_back(p);
      tracker_.born(pups_.size() - 1, Days{0}, Grams{world_.birth_g});
    }
    double day = 0;
    for (int round = 0; day < kDays; ++round) {
      const double to = round == 0 ? 0.0 : (round + dice_.uniform(-0.06, 0.06)) / world_.rounds_a_day;
      grow(day, to);
      day = to;
      weigh(day);
    }
    for (const Pup& p : pups_) {
      if (p.course.onset > kDays) continue;
      ++tally_.falterers;
      for (std::size_t r = 0; r < kRules.size(); ++r) {
        tally_.rules[r].delay_h.push_back(p.found[r] >= kNever ? kNever : 24 * (p.found[r] - p.course.onset));
        tally_.rules[r].before_tenth += p.found[r] < kNever && p.found[r] <= p.lost_tenth;
      }
    }
    tally_.weeks = kDays / 7;
    return std::move(tally_);
  }

 private:
  Course course() {
    const double onset = dice_.uniform(1.5, 14);
    switch (dice_.pick(3)) {
      case 0:  // falls at once
        return {onset, dice_.uniform(-0.09, -0.05), 2, dice_.uniform(-0.12, -0.06)};
      case 1:  // stands still, then falls
        return {onset, dice_.uniform(-0.01, 0.005), 2, dice_.uniform(-0.08, -0.04)};
      default:  // loses slowly
        return {onset, dice_.uniform(-0.04, -0.02), 4, dice_.uniform(-0.06, -0.03)};
    }
  }

  void grow(double from, double to) {
    const double step = 1.0 / 24;
    for (double day = from; day < to; day += step) {
      const double dt = std::min(step, to - day);
      for (Pup& p : pups_) {
        const double healthy = model_.expected(Days{day}) * vigour_ + p.pace;
        p.log_g += p.course.pace(day, healthy) * dt + dice_.normal(0, (day < 2 ? 0.03 : 0.007) * std::sqrt(dt));
        p.best_true = std::max(p.best_true, p.log_g);
        if (p.log_g < p.best_true + std::log(0.9)) p.lost_tenth = std::min(p.lost_tenth, day + dt);
      }
    }
  }

  double display(double grams) const {
    return std::max(world_.step_g, std::round(grams / world_.step_g) * world_.step_g);
  }

  void weigh(double day) {
    const double common = dice_.normal(0, common_noise_);
    std::vector<growth::Figure> figures;
    for (std::size_t i = 0; i < pups_.size(); ++i) {
      const double true_shown = std::exp(pups_[i].log_g + common + dice_.normal(0, own_noise_));
      figures.push_back({i, Grams{display(true_shown)}, Grams{0}, Grams{world_.step_g}, 1, false});
      // Half of the keepers write the tub down.
      if (tub_written_) figures.back().tub = Grams{tub_};
    }
    std::vector<std::optional<Slip>> slip(figures.size());
    if (world_.slips && day > 1.5) spoil(figures, slip);
    last_ = figures;
    std::vector<growth::RoundDoubt> now, back;
    for (auto& d : tracker_.round(Days{day}, figures)) (d.before ? back : now).push_back(std::move(d));
    later(back);
    judge(slip, now);
    for (std::size_t i = 0; i < pups_.size(); ++i) alarms(i, day, figures[i].grams.count());
  }

  void mark(std::vector<std::optional<Slip>>& slip, std::size_t i, Slip kind) {
    slip[i] = kind;
    ++tally_.made[static_cast<std::size_t>(kind)];
  }

  void spoil(std::vector<growth::Figure>& figures, std::vector<std::optional<Slip>>& slip) {
    const auto n = static_cast<int>(figures.size());
    const auto any = [&] { return static_cast<std::size_t>(dice_.pick(n)); };
    const auto grams = [&](std::size_t i) -> Grams& { return figures[i].grams; };
    if (!dice_.happens(0.12)) return;
    const std::size_t i = any();
    std::size_t j = any();
    if (j == i) j = (i + 1) % figures.size();
    switch (dice_.pick(8)) {
      case 0:
        // The tub was on and not taken off: the reading carries it.
        plain_[2] = tub_ > 0.15 * grams(i).count();
        plain_[3] = tub_written_;
        grams(i) = grams(i) + Grams{tub_};
        figures[i].tub = Grams{0};
        return mark(slip, i, Slip::tub_left_on);
      case 1: {
        const double zero = display((dice_.happens(0.5) ? 1 : -1) * dice_.uniform(40, 90) + 500) - display(500);
        for (std::size_t k = 0; k < figures.size(); ++k)
          grams(k) = std::max(Grams{world_.step_g}, grams(k) + Grams{zero}), slip[k] = Slip::zero_error;
        return mark(slip, i, Slip::zero_error);
      }
      case 2: {
        if (grams(i) == grams(j)) return;
        const double apart = std::abs(std::log(grams(i) / grams(j)));
        const double step = world_.step_g / grams(i).count();
        if (apart > 3 * std::sqrt(2 * (own_noise_ * own_noise_ + step * step / 12))) plain_[0] = true;
        plain_[1] = apart > std::log(1.15);
        std::swap(grams(i), grams(j));
        slip[j] = Slip::swapped;
        return mark(slip, i, Slip::swapped);
      }
      case 3:
        grams(i) = Grams{std::round(grams(i) / Grams{kGramsPerOunce} * 10) / 10};
        return mark(slip, i, Slip::wrong_unit);
      case 4: {
        auto text = fmt::format("{:.0f}", grams(i).count());
        const auto at = static_cast<std::size_t>(dice_.pick(static_cast<int>(text.size()) - 1));
        if (text.size() < 2 || text[at] == text[at + 1]) return;
        std::swap(text[at], text[at + 1]);
        if (text.front() == '0') return;
        grams(i) = Grams{std::stod(text)};
        return mark(slip, i, Slip::digit_slip);
      }
      case 5:
        grams(i) = dice_.happens(0.5) ? grams(i) * 10 : Grams{std::round(grams(i).count()) / 10};
        return mark(slip, i, Slip::decimal_slip);
      case 6:
        for (std::size_t k = 0; k < figures.size(); ++k) figures[k] = last_[k], slip[k] = Slip::typed_again;
        return mark(slip, i, Slip::typed_again);
      default:
        grams(j) = Grams{display(grams(i).count() * std::exp(dice_.normal(0, own_noise_)))};
        return mark(slip, j, Slip::weighed_twice);
    }
  }

  void judge(const std::vector<std::optional<Slip>>& slip, const std::vector<growth::RoundDoubt>& doubts) {
    std::optional<Slip> made;
    for (const auto& s : slip)
      if (s) made = s;
    bool seen = false, named = false;
    for (const auto& d : doubts) {
      const bool touches = touched(slip, d);
      seen = seen || touches;
      named = named || (touches && made && d.likelier == *made);
    }
    if (made) {
      const auto s = static_cast<std::size_t>(*made);
      tally_.seen[s] += seen, tally_.named[s] += named;
      for (std::size_t k = 0; k < plain_.size(); ++k)
        if (plain_[k]) ++tally_.plain[k].made, tally_.plain[k].seen += seen;
    }
    unseen_ = {slip, seen ? std::nullopt : made, plain_};
    plain_ = {};
  }

  bool touched(const std::vector<std::optional<Slip>>& slip, const growth::RoundDoubt& d) {
    const bool touches = std::any_of(d.figures.begin(), d.figures.end(), [&](auto i) { return slip[i].has_value(); });
    if (!touches) ++tally_.false_questions;
    return touches;
  }

  /// What the next round's questions about this one find that was not seen at once.
  void later(const std::vector<growth::RoundDoubt>& doubts) {
    bool seen = false;
    for (const auto& d : doubts) seen = touched(unseen_.slip, d) || seen;
    if (!seen || !unseen_.made) return;
    ++tally_.later[static_cast<std::size_t>(*unseen_.made)];
    for (std::size_t k = 0; k < unseen_.plain.size(); ++k)
      if (unseen_.plain[k]) ++tally_.plain[k].later;
  }

  void alarms(std::size_t i, double day, double shown) {
    Pup& p = pups_[i];
    if (p.shown.empty()) p.birth_shown = shown;
    p.best = std::max(p.best, shown);
    p.shown.push_back(shown);
    const auto ago = [&](double days) -> double {
      const auto back = static_cast<std::size_t>(std::lround(days * world_.rounds_a_day));
      return p.shown.size() > back ? p.shown[p.shown.size() - 1 - back] : 0.0;
    };
    const auto alarm = growth::alarm_of(model_, tracker_, i);
    const std::array now{
        day > 1.5 && ago(1) > 0 && shown <= ago(1), ago(2) > 0 && shown <= 0.96 * ago(2), shown <= 0.9 * p.best,
        day >= 10 && shown < 2 * p.birth_shown,     alarm != growth::Alarm::none,         alarm == growth::Alarm::act};
    for (std::size_t r = 0; r < kRules.size(); ++r) {
      if (now[r] && !p.on[r] && day < p.course.onset) ++tally_.rules[r].false_alarms;
      if (now[r] && day >= p.course.onset) p.found[r] = std::min(p.found[r], day);
      p.on[r] = now[r];
    }
  }

  const WeightsWorld& world_;
  const growth::PaceModel& model_;
  Dice dice_;
  growth::Tracker tracker_;
  std::vector<Pup> pups_;
  std::vector<growth::Figure> last_;
  double own_noise_ = 0, common_noise_ = 0, vigour_ = 1, tub_ = 100;
  bool tub_written_ = dice_.happens(0.5);
  struct Unseen {
    std::vector<std::optional<Slip>> slip;
    std::optional<Slip> made;
    std::array<bool, 4> plain{};
  };
  Unseen unseen_{};              ///< the round before
  std::array<bool, 4> plain_{};  ///< what was made in this round is so plain
  Tally tally_;
};

double middle(std::vector<double> all) {
  if (all.empty()) return kNever;
  std::sort(all.begin(), all.end());
  return all[all.size() / 2];
}

}  // namespace

std::string rehearse_weights(const WeightsWorld& world, const Progress& progress) {
  const growth::PaceModel model(reference::built_in());
  const auto litters = static_cast<std::size_t>(std::max(0, world.litters));
  std::vector<Tally> each(workers());
  share_out(
      litters,
      [&](std::size_t i, std::size_t worker) {
        each[worker].add(Litter(world, model, (std::uint64_t{world.seed} << 32) + i).run());
      },
      progress);
  Tally all;
  for (const Tally& t : each) all.add(t);

  std::string out = fmt::format(
      "{} litters of {} pups, born at {:.0f} g, scale {:.1f} g, {} round(s) a day, three weeks, seed {}{}.\n\n",
      litters, world.pups, world.birth_g, world.step_g, world.rounds_a_day, world.seed,
      world.slips ? "" : ", no slips");
  out += fmt::format("{:<24}{:>10}{:>10}{:>20}{:>22}\n", "rule", "found %", "delay h", "before -10 % lost %",
                     "false a litter-week");
  for (std::size_t r = 0; r < kRules.size(); ++r) {
    const auto& rule = all.rules[r];
    const auto found = std::count_if(rule.delay_h.begin(), rule.delay_h.end(), [](double d) { return d < kNever; });
    const double n = std::max(1, all.falterers), delay = middle(rule.delay_h);
    out += fmt::format("{:<24}{:>10.1f}{:>10}{:>20.1f}{:>22.3f}\n", kRules[r], 100 * static_cast<double>(found) / n,
                       delay < kNever ? fmt::format("{:.1f}", delay) : "-", 100 * rule.before_tenth / n,
                       rule.false_alarms / std::max(1.0, all.weeks));
  }
  out +=
      fmt::format("\n{:<24}{:>10}{:>10}{:>18}{:>16}\n", "slip", "made", "asked %", "by next round %", "named right %");
  for (std::size_t s = 0; s < kSlips; ++s) {
    const double n = std::max(1, all.made[s]);
    out += fmt::format("{:<24}{:>10}{:>10.1f}{:>18.1f}{:>16.1f}\n", growth::name_of(static_cast<Slip>(s)), all.made[s],
                       100 * all.seen[s] / n, 100 * (all.seen[s] + all.later[s]) / n, 100 * all.named[s] / n);
  }
  constexpr std::array kPlain{"swapped, over 3 SD apart", "swapped, over 15 % apart", "tub over 15 % of pup",
                              "tub usually written"};
  for (std::size_t k = 0; k < kPlain.size(); ++k) {
    const auto& p = all.plain[k];
    const double n = std::max(1, p.made);
    out += fmt::format("{:<24}{:>10}{:>10.1f}{:>18.1f}\n", kPlain[k], p.made, 100 * p.seen / n,
                       100 * (p.seen + p.later) / n);
  }
  out += fmt::format("false questions: {:.3f} a litter\n",
                     all.false_questions / std::max(1.0, static_cast<double>(litters)));
  out += fmt::format(
      "{} falterers. delay: middle of all of them, from the onset; - when more than half were never found. "
      "false: a healthy pup newly flagged.\n",
      all.falterers);
  return out;
}

}  // namespace lampside::rehearse
