// The clues joined by Bayes' rule on an hourly grid.
//
// The chain is  LH surge --N(8, 1.15 d)--> dioestrus --N(57, 0.9 d)--> whelping.  Clues about one event multiply;
// passing an event on is a convolution with a normal. Since each clue speaks of one event, the joint grid over all
// three factors, and two convolutions give exactly what summing over the whole joint grid would.
#include "due/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "due/chain.hpp"
#include "due/known.hpp"
#include "due/model.hpp"
#include "due/overdue.hpp"

namespace lampside::due {

namespace {

using record::Litter;
using reference::Reference;
using std::chrono::hours;

constexpr double kNever = -std::numeric_limits<double>::infinity();

/// A log-likelihood over an axis, built up clue by clue.
struct LogField {
  Density log;
  void add(const Density& more) {
    for (std::size_t i = 0; i < log.size(); ++i) log[i] += more[i];
  }
};

enum class Mix { full, only_good };

class Model {
 public:
  Model(const Chain& chain, double gross, Instant now, const Axes& axes, std::vector<ClueTerm> clues)
      : axes_{axes}, chain_{chain}, clues_{std::move(clues)}, gross_{gross} {
    possible_.assign(axes_.whelping.cells, 0);
    // She has not whelped yet: an hour before now is impossible, the hour of now half so.
    for (std::size_t i = 0; i < possible_.size(); ++i) {
      const double ahead = static_cast<double>((axes_.whelping.at(i) - now).count()) / 3'600'000.0;
      possible_[i] = std::log(std::clamp(ahead + 0.5, 0.0, 1.0));
    }
    for (const auto& clue : clues_) mixed_.push_back(mix(clue));
    whole_ = forward(clues_.size(), Mix::full);
    handed_on_ = whole_.into_whelping;
  }
  [[nodiscard]] const Density& density() const { return whole_.whelping; }
  /// What the dates alone say of whelping: no clue of the last days, and not that she has not whelped yet. Sums to 1.
  [[nodiscard]] Density by_dates() const {
    Density out = whole_.into_whelping;
    const double sum = std::accumulate(out.begin(), out.end(), 0.0);
    for (double& d : out) d /= sum;
    return out;
  }
  [[nodiscard]] double log_evidence() const { return whole_.log_evidence; }
  [[nodiscard]] const std::vector<ClueTerm>& clues() const { return clues_; }

  struct Answer {
    Density whelping;  ///< sums to 1
    double log_evidence = kNever;
  };
  /// All clues but one (a number past the last: none left out), or with every clue taken as it should be.
  [[nodiscard]] Answer answer(std::size_t without, Mix how) const {
    Forward f = forward(without, how);
    return {std::move(f.whelping), f.log_evidence};
  }

  /// For each clue, the chance that it is a gross error given all the others.
  [[nodiscard]] std::vector<double> odd_chances() const {
    const Forward& f = whole_;
    // Backward: what the later events say about the earlier ones.
    const Density back_dioestrus =
        pass_on(f.own_whelping, axes_.whelping, axes_.dioestrus, {-chain_.to_whelping.mean_d, chain_.to_whelping.sd_d});
    Density dioestrus(axes_.dioestrus.cells), at_dioestrus(axes_.dioestrus.cells);
    for (std::size_t i = 0; i < dioestrus.size(); ++i) {
      dioestrus[i] = f.own_dioestrus[i] * back_dioestrus[i];
      at_dioestrus[i] = f.into_dioestrus[i] * dioestrus[i];
    }
    const Density back_lh =
        pass_on(dioestrus, axes_.dioestrus, axes_.lh, {-chain_.to_dioestrus.mean_d, chain_.to_dioestrus.sd_d});
    Density at_lh(axes_.lh.cells);
    for (std::size_t i = 0; i < at_lh.size(); ++i) at_lh[i] = f.own_lh[i] * back_lh[i];
    std::vector<double> out;
    for (std::size_t c = 0; c < clues_.size(); ++c) {
      const auto& clue = clues_[c];
      const Density& where = clue.event == Event::lh_surge    ? at_lh
                             : clue.event == Event::dioestrus ? at_dioestrus
                                                              : f.whelping;
      double all = 0, odd = 0;
      if (!clue.odd.empty())
        for (std::size_t i = 0; i < where.size(); ++i) {
          if (!(where[i] > 0)) continue;
          all += where[i];
          odd += where[i] * std::exp(std::log(gross_) + clue.odd[i] - mixed_[c][i]);
        }
      out.push_back(all > 0 ? odd / all : 0.0);
    }
    return out;
  }

 private:
  struct Forward {
    Density own_lh, own_dioestrus, own_whelping;  ///< what the clues about each event say
    Density into_dioestrus, into_whelping;        ///< what the events before it hand on
    Density whelping;                             ///< joined, sums to 1
    double log_evidence;
  };

  Density mix(const ClueTerm& clue) const {
    if (clue.odd.empty()) return clue.good;
    Density out(clue.good.size());
    for (std::size_t i = 0; i < out.size(); ++i)
      out[i] = log_add(std::log1p(-gross_) + clue.good[i], std::log(gross_) + clue.odd[i]);
    return out;
  }
  /// exp of a log field with its greatest value taken out and added to `scale`.
  static Density opened(const Density& log, double& scale) {
    const double top = *std::max_element(log.begin(), log.end());
    Density out(log.size(), 0.0);
    if (top == kNever) return scale = kNever, out;
    scale += top;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = std::exp(log[i] - top);
    return out;
  }
  Forward forward(std::size_t without, Mix how) const {
    LogField lh{Density(axes_.lh.cells, 0)}, dioestrus{Density(axes_.dioestrus.cells, 0)}, whelping{possible_};
    double scale = 0;
    for (std::size_t c = 0; c < clues_.size(); ++c) {
      if (c == without) continue;
      auto& field = clues_[c].event == Event::lh_surge    ? lh
                    : clues_[c].event == Event::dioestrus ? dioestrus
                                                          : whelping;
      if (how == Mix::full) {
        field.add(mixed_[c]);
      } else {
        field.add(clues_[c].good);
        if (!clues_[c].odd.empty()) scale += std::log1p(-gross_);
      }
    }
    Forward f;
    f.own_lh = opened(lh.log, scale);
    f.own_dioestrus = opened(dioestrus.log, scale);
    f.own_whelping = opened(whelping.log, scale);
    // Leaving out a clue about whelping itself changes nothing of what comes from before.
    const bool late =
        how == Mix::full && without < clues_.size() && clues_[without].event == Event::whelping && !handed_on_.empty();
    if (!late) {
      f.into_dioestrus = pass_on(f.own_lh, axes_.lh, axes_.dioestrus, chain_.to_dioestrus);
      Density at_dioestrus(f.into_dioestrus);
      for (std::size_t i = 0; i < at_dioestrus.size(); ++i) at_dioestrus[i] *= f.own_dioestrus[i];
      f.into_whelping = pass_on(at_dioestrus, axes_.dioestrus, axes_.whelping, chain_.to_whelping);
    }
    f.whelping = late ? handed_on_ : f.into_whelping;
    double sum = 0;
    for (std::size_t i = 0; i < f.whelping.size(); ++i) sum += f.whelping[i] *= f.own_whelping[i];
    // The flat prior over the surge is one part in so many hours.
    f.log_evidence = sum > 0 ? scale + std::log(sum) - std::log(static_cast<double>(axes_.lh.cells)) : kNever;
    if (sum > 0)
      for (double& d : f.whelping) d /= sum;
    return f;
  }

  const Axes& axes_;
  Chain chain_;
  std::vector<ClueTerm> clues_;
  std::vector<Density> mixed_;
  Density possible_;
  double gross_;
  Forward whole_;
  Density handed_on_;
};

/// A reading tells most at the hour where what it would show differs most over the hours she may whelp.
std::optional<Instant> best_reading_time(const Forecast& forecast, const Reference& reference, Instant now) {
  std::optional<Instant> best_time;
  double best = 0;
  const auto course = drop_course(reference, 72);
  for (int ahead = 1; ahead <= 24; ++ahead) {
    const Instant t = now + hours{ahead};
    double sum = 0, squares = 0, mass = 0;
    for (std::size_t i = 0; i < forecast.density.size(); ++i) {
      const long before = (forecast.from + hours{static_cast<long>(i)} - t) / hours{1};
      if (before < 0 || forecast.density[i] < 1e-9) continue;
      const double shows = course[std::min(static_cast<std::size_t>(before), course.size() - 1)];
      mass += forecast.density[i], sum += forecast.density[i] * shows, squares += forecast.density[i] * shows * shows;
    }
    const double varies = mass > 0 ? squares - sum * sum / mass : 0;
    if (varies > best + 1e-6) best = varies, best_time = t;
  }
  return best_time;
}

Instant to_hour(Instant t) { return std::chrono::floor<hours>(t); }

}  // namespace

Instant Forecast::quantile(double p) const {
  double sum = 0;
  for (std::size_t i = 0; i < density.size(); ++i) {
    if (sum + density[i] >= p && density[i] > 0) {
      const double part = (p - sum) / density[i] - 0.5;
      return from + Span{std::llround((static_cast<double>(i) + part) * 3'600'000)};
    }
    sum += density[i];
  }
  return from + hours{static_cast<long>(density.size())};
}

double Forecast::between(Instant a, Instant b) const {
  double sum = 0;
  for (std::size_t i = 0; i < density.size(); ++i) {
    const Instant start = from + hours{static_cast<long>(i)} - Minutes{30}, end = start + hours{1};
    const auto overlap = std::min(end, b) - std::max(start, a);
    if (overlap > Span{0}) sum += density[i] * static_cast<double>(overlap.count()) / 3'600'000.0;
  }
  return sum;
}

reference::Assessed<Forecast> forecast(const Litter& litter, const Reference& reference, Instant now) {
  if (const auto born = litter.first_birth(); born && *born <= now)
    return reference::NotAssessed{"PAST", "she has whelped"};
  const Known known = known_by(litter, reference, now);
  if (known.whelpings.empty())
    return reference::NotAssessed{
        "NO_DATA", "no mating, ovulation, LH surge, progesterone rise, dioestrus or scan is recorded yet"};
  const auto too_late =
      reference::NotAssessed{"NO_REFERENCE", "she is later than any published figure reaches: ring your vet"};
  const auto [first, last] = std::minmax_element(known.whelpings.begin(), known.whelpings.end());
  if (now > *last + hours{24 * 12}) return too_late;
  const Chain chain = chain_of(known.litter, reference);
  const Instant end = std::max(*last, now) + hours{24 * 14};
  const Axes axes = axes_for(to_hour(*first - hours{24 * 14}), to_hour(end), chain);
  std::vector<ClueTerm> clues;
  const Reading reading{known.litter, reference, now, axes};
  mating_clue(reading, clues);
  cycle_clues(reading, clues);
  progesterone_clues(reading, clues);
  foetus_clues(reading, clues);
  temperature_clue(reading, clues);
  sign_clue(reading, clues);
  const Model model(chain, parameter(reference, "gross_error"), now, axes, std::move(clues));

  const std::size_t all = model.clues().size();
  Forecast out{};
  out.from = axes.whelping.start;
  out.log_evidence = model.log_evidence();
  if (out.log_evidence == kNever) return too_late;
  out.density = model.density();
  const auto at = [&](double p) { return std::max(out.quantile(p), now); };
  out.p05 = at(0.05), out.p25 = at(0.25), out.p50 = at(0.5), out.p75 = at(0.75), out.p95 = at(0.95);
  Forecast by_dates{};
  by_dates.from = out.from;
  by_dates.density = model.by_dates();
  out.opens = by_dates.quantile(0.05);
  out.home_from = out.p05 - hours{18};
  if (const auto* box = reference::rule_of(reference.day_rules, "BOX_READY"))
    out.box_by = out.opens - reference::to_span(box->limit);
  out.ring_by = out.p95;
  if (const auto line = ring_line(litter, reference)) out.ring_by = std::min(out.ring_by, *line);
  out.adjustments = chain.adjustments;
  const auto within = [&](int h) { return out.between(now - hours{1}, now + hours{h}); };
  out.chance = {within(6), within(12), within(24), within(48)};

  const auto spread = [](const Forecast& f) {
    return static_cast<double>((f.quantile(0.84) - f.quantile(0.16)).count());
  };
  const auto odd = model.odd_chances();
  for (std::size_t c = 0; c < all; ++c) {
    const auto& clue = model.clues()[c];
    Clue told{clue.kind, clue.says, Hours{0}, 1.0, odd[c], clue.source};
    if (all > 1) {
      Forecast without{};
      without.from = out.from;
      without.density = model.answer(c, Mix::full).whelping;
      told.pull = Hours{static_cast<double>((out.quantile(0.5) - without.quantile(0.5)).count()) / 3'600'000.0};
      const double before = spread(without);
      told.weight = before > 0 ? std::clamp(1 - spread(out) / before, 0.0, 1.0) : 0.0;
    }
    out.clues.push_back(std::move(told));
  }
  // A conflict: that every clue is as it should be is less likely than that one of them is a slip.
  const double clean = std::exp(model.answer(all, Mix::only_good).log_evidence - out.log_evidence);
  if (known.seasons) out.conflicts.push_back(*known.seasons);
  if (clean < 0.5) {
    std::vector<std::size_t> likeliest;
    for (std::size_t c = 0; c < all; ++c)
      if (odd[c] >= 0.3) likeliest.push_back(c);
    std::sort(likeliest.begin(), likeliest.end(),
              [&](std::size_t a, std::size_t b) { return std::pair{-odd[a], a} < std::pair{-odd[b], b}; });
    for (const std::size_t c : likeliest) {
      const auto& clue = model.clues()[c];
      out.conflicts.push_back({fmt::format("\"{}\" does not fit the other clues; {:.0f} % that it is a slip: {}",
                                           clue.says, odd[c] * 100, clue.slip),
                               clue.kind});
    }
  }
  out.next_reading = best_reading_time(out, reference, now);
  return out;
}

}  // namespace lampside::due
