// The clues joined by Bayes' rule on an hourly grid.
//
// The chain is  LH surge --N(8, 1.15 d)--> dioestrus --N(57, 0.9 d)--> whelping.  Clues about one event multiply; passing an
// event on is a convolution with a normal. Since each clue speaks of one event, the joint grid over all three factors, and
// two convolutions give exactly what summing over the whole joint grid would.
#include "due/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "due/model.hpp"

namespace lampside::due {

namespace {

using record::Litter;
using reference::Reference;
using Density = std::vector<double>;
using std::chrono::hours;

constexpr double kNever = -std::numeric_limits<double>::infinity();

/// Steps of the chain: mean and spread in days, with this litter's shifts in the means.
struct Step {
  double mean_d, sd_d;
};
struct Chain {
  Step to_dioestrus, to_whelping;
};

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
    const auto low = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
    return low(x) == low(y);
  });
}

/// This dam's own habit from her earlier litters, shrunk: one litter is hardly heard, many are.
double habit_shift(const Litter& litter, const Reference& reference, const Chain& chain) {
  const double between = parameter(reference, "dam_habit_sd_d");
  const double lh_to_whelping = chain.to_dioestrus.mean_d + chain.to_whelping.mean_d;
  const double gestation = std::hypot(chain.to_dioestrus.sd_d, chain.to_whelping.sd_d);
  double weight = 1 / (between * between), sum = 0;
  for (const auto& e : litter.earlier) {
    double mean = lh_to_whelping, read = parameter(reference, "lh_read_sd_d");
    if (e.what.from == record::Anchor::ovulation) mean -= parameter(reference, "lh_to_ovulation_d"), read = parameter(reference, "ovulation_read_sd_d");
    if (e.what.from == record::Anchor::mating) mean -= parameter(reference, "mating_after_lh_d"), read = parameter(reference, "mating_after_lh_sd_d");
    const double own = 1 / (gestation * gestation + read * read);
    weight += own;
    sum += own * (e.what.days.count() - mean);
  }
  return sum / weight;
}

Chain chain_of(const Litter& litter, const Reference& reference, Instant now) {
  const auto value = [&](std::string_view name) { return parameter(reference, name); };
  Chain chain{{value("lh_to_dioestrus_d"), value("lh_to_dioestrus_sd_d")}, {value("dioestrus_to_whelping_d"), value("dioestrus_to_whelping_sd_d")}};
  // The published breed shifts were measured from the progesterone rise; dioestrus + 57 held across breeds.
  for (const auto& row : reference.gestation_shifts)
    if (same_word(row.breed, litter.breed())) chain.to_dioestrus.mean_d += row.shift_d.count();
  const auto* breed = reference::birth_weight_class(reference, litter.breed());
  const record::PupCount* count = nullptr;
  for (const auto& c : litter.counts)
    if (c.at <= now) count = &c.what;
  if (breed && count) chain.to_whelping.mean_d += value("litter_size_shift_d") * (count->pups - breed->litter_mean);
  chain.to_whelping.mean_d += habit_shift(litter, reference, chain);
  return chain;
}

/// out[j] = sum_i in[i] x N(out axis j - in axis i; step). Cells that carry nothing are passed over.
Density pass_on(const Density& in, const Axis& from, const Axis& to, const Step& step) {
  Density out(to.cells, 0.0);
  const double total = std::accumulate(in.begin(), in.end(), 0.0);
  if (!(total > 0)) return out;
  const double offset = static_cast<double>((from.start - to.start).count()) / 3'600'000.0 + step.mean_d * 24;  // where cell 0 goes
  const double sd = step.sd_d * 24;
  const long reach = std::lround(6 * sd);
  const long base = std::lround(std::floor(offset));
  const double rest = offset - static_cast<double>(base);
  Density kernel(static_cast<std::size_t>(2 * reach + 2));
  double sum = 0;
  for (std::size_t k = 0; k < kernel.size(); ++k) {
    const double z = (static_cast<double>(k) - static_cast<double>(reach) - rest) / sd;
    sum += kernel[k] = std::exp(-0.5 * z * z);
  }
  for (double& k : kernel) k /= sum;
  for (std::size_t i = 0; i < in.size(); ++i) {
    if (in[i] < total * 1e-12) continue;
    const long first = static_cast<long>(i) + base - reach;  // where the kernel's cell 0 falls
    const long k0 = std::max(0L, -first), k1 = std::min(static_cast<long>(kernel.size()), static_cast<long>(out.size()) - first);
    if (k0 >= k1) continue;
    const double carried = in[i];
    const double* weight = kernel.data() + k0;
    double* into = out.data() + first + k0;
    for (long k = 0; k < k1 - k0; ++k) into[k] += carried * weight[k];
  }
  return out;
}

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
  Model(const Litter& litter, const Reference& reference, Instant now, const Axes& axes, std::vector<ClueTerm> clues)
      : axes_{axes}, chain_{chain_of(litter, reference, now)}, clues_{std::move(clues)}, gross_{parameter(reference, "gross_error")} {
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
    const Density back_dioestrus = pass_on(f.own_whelping, axes_.whelping, axes_.dioestrus, {-chain_.to_whelping.mean_d, chain_.to_whelping.sd_d});
    Density dioestrus(axes_.dioestrus.cells), at_dioestrus(axes_.dioestrus.cells);
    for (std::size_t i = 0; i < dioestrus.size(); ++i) {
      dioestrus[i] = f.own_dioestrus[i] * back_dioestrus[i];
      at_dioestrus[i] = f.into_dioestrus[i] * dioestrus[i];
    }
    const Density back_lh = pass_on(dioestrus, axes_.dioestrus, axes_.lh, {-chain_.to_dioestrus.mean_d, chain_.to_dioestrus.sd_d});
    Density at_lh(axes_.lh.cells);
    for (std::size_t i = 0; i < at_lh.size(); ++i) at_lh[i] = f.own_lh[i] * back_lh[i];
    std::vector<double> out;
    for (std::size_t c = 0; c < clues_.size(); ++c) {
      const auto& clue = clues_[c];
      const Density& where = clue.event == Event::lh_surge ? at_lh : clue.event == Event::dioestrus ? at_dioestrus : f.whelping;
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
    Density into_dioestrus, into_whelping;       ///< what the events before it hand on
    Density whelping;                            ///< joined, sums to 1
    double log_evidence;
  };

  Density mix(const ClueTerm& clue) const {
    if (clue.odd.empty()) return clue.good;
    Density out(clue.good.size());
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = log_add(std::log1p(-gross_) + clue.good[i], std::log(gross_) + clue.odd[i]);
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
      auto& field = clues_[c].event == Event::lh_surge ? lh : clues_[c].event == Event::dioestrus ? dioestrus : whelping;
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
    const bool late = how == Mix::full && without < clues_.size() && clues_[without].event == Event::whelping && !handed_on_.empty();
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

/// The whelping dates the dated entries point to, each by itself: how wide the grid must be.
std::vector<Instant> rough_dates(const Litter& litter, const Reference& reference, Instant now) {
  std::vector<Instant> out;
  const auto add = [&](const auto& events, double days) {
    for (const auto& e : events)
      if (e.at <= now) out.push_back(e.at + reference::to_span(Days{days}));
  };
  add(litter.matings, 63);
  add(litter.lh_surges, 65);
  add(litter.ovulations, 63);
  add(litter.dioestrus, 57);
  for (const auto& m : litter.foetal_measures)
    if (const auto* row = m.at <= now ? foetometry_row(reference, litter, m.what.measure) : nullptr)
      out.push_back(m.at + reference::to_span(Days{read_scan(*row, m.what.mm).to_go_d}));
  for (const auto& p : litter.progesterone) {
    if (p.at > now || !around_ovulation(litter, p.at)) continue;
    const double ng = p.what.ng_ml.count();
    if (ng >= 1.2 && ng <= parameter(reference, "progesterone_dates_to_ng_ml")) out.push_back(p.at + reference::to_span(Days{64}));
  }
  return out;
}

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
  if (litter.first_birth()) return reference::NotAssessed{"PAST", "she has whelped"};
  const auto rough = rough_dates(litter, reference, now);
  if (rough.empty())
    return reference::NotAssessed{"NO_DATA", "no mating, ovulation, LH surge, progesterone rise, dioestrus or scan is recorded yet"};
  const auto [first, last] = std::minmax_element(rough.begin(), rough.end());
  // Clues more than 40 days apart are two seasons' data; the grid follows the later ones, the others stand out as odd.
  const Instant low = std::max(*first, *last - hours{24 * 40});
  const Instant start = to_hour(low - hours{24 * 14});
  const Instant end = std::max(*last, std::min(now, *last + hours{24 * 12})) + hours{24 * 14};
  if (now > *last + hours{24 * 12})
    return reference::NotAssessed{"NO_REFERENCE", "she is later than any published figure reaches: ring your vet"};
  const auto cells = [](Instant a, Instant b) { return static_cast<std::size_t>((b - a) / hours{1}) + 1; };
  const Axes axes{{start - hours{24 * 72}, cells(start - hours{24 * 72}, end - hours{24 * 58})},
                  {start - hours{24 * 62}, cells(start - hours{24 * 62}, end - hours{24 * 52})},
                  {start, cells(start, end)}};
  std::vector<ClueTerm> clues;
  const Reading reading{litter, reference, now, axes};
  mating_clue(reading, clues);
  cycle_clues(reading, clues);
  progesterone_clues(reading, clues);
  foetus_clues(reading, clues);
  temperature_clue(reading, clues);
  sign_clue(reading, clues);
  const Model model(litter, reference, now, axes, std::move(clues));

  const std::size_t all = model.clues().size();
  Forecast out{};
  out.from = axes.whelping.start;
  out.log_evidence = model.log_evidence();
  if (out.log_evidence == kNever)
    return reference::NotAssessed{"NO_REFERENCE", "she is later than any published figure reaches: ring your vet"};
  out.density = model.density();
  const auto at = [&](double p) { return std::max(out.quantile(p), now); };
  out.p05 = at(0.05), out.p25 = at(0.25), out.p50 = at(0.5), out.p75 = at(0.75), out.p95 = at(0.95);
  const auto within = [&](int h) { return out.between(now - hours{1}, now + hours{h}); };
  out.chance = {within(6), within(12), within(24), within(48)};

  const auto spread = [](const Forecast& f) { return static_cast<double>((f.quantile(0.84) - f.quantile(0.16)).count()); };
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
  if (clean < 0.5) {
    for (std::size_t c = 0; c < all; ++c) {
      if (odd[c] < 0.3) continue;
      const auto& clue = model.clues()[c];
      out.conflicts.push_back({fmt::format("\"{}\" does not fit the other clues; {:.0f} % that it is a slip: {}", clue.says, odd[c] * 100, clue.slip),
                               clue.kind});
    }
    std::sort(out.conflicts.begin(), out.conflicts.end(), [](const Conflict& a, const Conflict& b) { return a.says < b.says; });
  }
  out.next_reading = best_reading_time(out, reference, now);
  return out;
}

}  // namespace lampside::due
