#include "growth/doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <set>

namespace lampside::growth {

std::string_view name_of(Slip slip) {
  switch (slip) {
    case Slip::tub_left_on:
      return "tub_left_on";
    case Slip::zero_error:
      return "zero_error";
    case Slip::swapped:
      return "swapped";
    case Slip::wrong_unit:
      return "wrong_unit";
    case Slip::digit_slip:
      return "digit_slip";
    case Slip::decimal_slip:
      return "decimal_slip";
    case Slip::typed_again:
      return "typed_again";
    case Slip::weighed_twice:
      return "weighed_twice";
  }
  return "digit_slip";
}

namespace {
// A real change against the model: mostly a fall. Wide, so that a pup in trouble is never argued away.
constexpr double kRealMean = -0.06, kRealSd = 0.10;
/// How far a scale's zero may be off, g (one standard deviation).
constexpr double kZeroSd = 40;
double whole_number(std::string_view digits) {
  double out = 0;
  for (const char c : digits) out = out * 10 + (c - '0');
  return out;
}
/// Squared distances, in spreads, from which a reading is worth a thought, and from which its course broke.
constexpr double kOdd = 6, kBroken = 16;
/// Odds that the tub was on after all, where it was taken off most of a round and not off this reading: three in four.
constexpr double kTubForgotten = 3;
/// Ideas so much (ln) below the odds of asking do not count towards them.
constexpr double kUnlikely = 5;
/// In the place of a figure: none is known.
constexpr std::array<std::optional<Grams>, 1> kWeighAgain{};
}  // namespace

void RoundCheck::begin(std::size_t readings) {
  readings_ = readings;
  items_.clear(), items_.reserve(readings);
  covariance_.resize(readings * readings);
  broke_.assign(readings, false);
}
void RoundCheck::add(const Figure& figure, double log_g, double off, double noise, std::optional<Grams> last,
                     bool trusted) {
  items_.push_back({items_.size(), figure, off, log_g, noise, last, trusted});
}

void RoundCheck::invert() {
  const std::size_t n = items_.size();
  precision_ = covariance_;
  pivots_.resize(n), pull_.resize(n);
  for (std::size_t c = 0; c < n; ++c) {
    double* __restrict at = &precision_[c * n];
    pivots_[c] = at[c];
    const double share = 1 / at[c];
    at[c] = 1;
    for (std::size_t j = 0; j < n; ++j) at[j] *= share;
    for (std::size_t i = 0; i < n; ++i) {
      if (i == c) continue;
      double* __restrict row = &precision_[i * n];
      const double factor = row[c];
      row[c] = 0;
      for (std::size_t j = 0; j < n; ++j) row[j] -= factor * at[j];
    }
  }
  square_ = 0;
  for (std::size_t i = 0; i < n; ++i) {
    double pull = 0;
    for (std::size_t j = 0; j < n; ++j) pull += precision_[i * n + j] * items_[j].off;
    pull_[i] = pull;
    square_ += pull * items_[i].off;
  }
}

double RoundCheck::changed(std::size_t i, double by) const {
  return -0.5 * (2 * by * pull_[i] + by * by * precision_[i * items_.size() + i]);
}
double RoundCheck::changed(std::span<const std::size_t> who, std::span<const double> by) const {
  double sum = 0;
  for (std::size_t a = 0; a < who.size(); ++a) {
    sum += 2 * by[a] * pull_[who[a]];
    for (std::size_t b = 0; b < who.size(); ++b) sum += by[a] * by[b] * precision_[who[a] * items_.size() + who[b]];
  }
  return -0.5 * sum;
}

/// ln odds of a real fall against none, from the pull on a reading and its precision.
double RoundCheck::real(double pull, double own) const {
  if (pull > 0) return 0;  // no pup really leaps up
  const double spread = 1 + kRealSd * kRealSd * own, left = pull - kRealMean * own;
  return -0.5 * std::log(spread) + 0.5 * kRealSd * kRealSd * left * left / spread + kRealMean * pull -
         0.5 * kRealMean * kRealMean * own + std::log(model_.real_change);
}
double RoundCheck::real_beside(std::size_t i, std::span<const std::size_t> who) const {
  // The oddest of the others in the idea is left out: false itself, it would bend what is foreseen of this one.
  const std::size_t n = items_.size();
  std::optional<std::size_t> other;
  for (const auto k : who)
    if (k != i && (!other || oddness(k) > oddness(*other))) other = k;
  if (!other) return real(i);
  const double both = precision_[i * n + *other], theirs = precision_[*other * n + *other];
  return real(pull_[i] - both / theirs * pull_[*other], precision_[i * n + i] - both * both / theirs);
}

bool RoundCheck::counts(double log_odds) const { return log_odds >= model_.ask_at - kUnlikely; }
void RoundCheck::push(Slip slip, std::span<const std::size_t> who, std::span<const std::optional<Grams>> would_be,
                      double factor, double log_prior) {
  if (!counts(factor + log_prior)) return;
  for (const auto i : who)
    if (items_[i].trusted) return;
  // A round of false readings stands against one common cause, single ones each against a change of that pup.
  if (slip != Slip::zero_error && slip != Slip::typed_again)
    for (const auto i : who) factor -= std::max(0.0, real_beside(i, who));
  if (!counts(factor + log_prior)) return;
  ideas_.push_back({{slip, {who.begin(), who.end()}, factor, {would_be.begin(), would_be.end()}}, factor + log_prior});
}
void RoundCheck::one(std::size_t i, Slip slip, double would_be, double log_prior, double jacobian) {
  if (!(would_be > 0)) return;
  push(slip, std::array{i}, std::array{std::optional{Grams{would_be}}},
       changed(i, std::log(would_be) - items_[i].log_g) + jacobian, log_prior);
}

void RoundCheck::tubs_left_on(std::size_t i, const std::vector<double>& tubs) {
  const double g = items_[i].figure.grams.count();
  for (const double tub : tubs) {
    // The others of this round were in that tub, and it was taken off them.
    const auto in_it =
        std::count_if(items_.begin(), items_.end(), [&](const Item& o) { return o.figure.tub.count() == tub; });
    const bool usual = 2 * in_it > static_cast<long>(items_.size());
    if (items_[i].figure.tub.count() > 0)  // taken off though not on
      one(i, Slip::tub_left_on, g + tub, std::log(model_.slip * (usual ? 5 : 0.25)), std::log(g / (g + tub)));
    else if (g > tub)
      one(i, Slip::tub_left_on, g - tub, std::log(usual ? kTubForgotten : model_.slip), std::log(g / (g - tub)));
  }
  if (!tubs.empty()) return;
  // No tub was ever written down: any from 15 g to 600 g, evenly by ratio.
  constexpr int kSteps = 24;
  static const auto kAnyTub = [] {
    std::array<double, kSteps> all{};
    for (std::size_t k = 0; k < all.size(); ++k) all[k] = 15 * std::pow(40.0, static_cast<double>(k) / (kSteps - 1));
    return all;
  }();
  double sum = 0;
  for (const double tub : kAnyTub) {
    if (tub < 0.95 * g) sum += std::exp(changed(i, std::log(g - tub) - items_[i].log_g)) * g / (g - tub);
  }
  if (sum > 0) push(Slip::tub_left_on, std::array{i}, kWeighAgain, std::log(sum / kSteps), std::log(model_.slip / 8));
}

void RoundCheck::digits(std::size_t i) {
  const Figure& f = items_[i].figure;
  const double typed = (f.grams + f.tub).count() / f.unit_g;
  const double tenths = std::round(typed * 10);
  if (!(typed > 0) || std::abs(typed * 10 - tenths) > 0.02) return;  // a fraction, not digits
  std::string text = fmt::format("{:.0f}", tenths);
  // A figure typed without a point has no tenths to be wrong in.
  const bool whole = text.back() == '0';
  if (whole) text.pop_back();
  const double place = whole ? 1 : 0.1;
  std::set<double> others;
  const auto put = [&](const std::string& s) {
    if (s.front() != '0' && s != text) others.insert(whole_number(s) * place * f.unit_g - f.tub.count());
  };
  for (std::size_t a = 0; a < text.size(); ++a) {
    auto s = text;
    if (a + 1 < s.size()) std::swap(s[a], s[a + 1]), put(s);
    for (char c = '0'; c <= '9'; ++c) s = text, s[a] = c, put(s);
  }
  const double prior = std::log(model_.slip / 2 / static_cast<double>(std::max<std::size_t>(others.size(), 1)));
  for (const double g : others)
    if (g > 0) one(i, Slip::digit_slip, g, prior, std::log(f.grams.count() / g));
  for (const double factor : {10.0, 0.1, 100.0, 0.01})
    one(i, Slip::decimal_slip, typed * factor * f.unit_g - f.tub.count(), std::log(model_.slip / 4), 0);
}

void RoundCheck::swaps() {
  const std::size_t n = items_.size();
  const double pairs = static_cast<double>(n * (n - 1)) / 2,
               triples = std::max(1.0, pairs * static_cast<double>(n - 2) / 1.5);
  const auto by = [&](std::size_t to, std::size_t from) { return items_[from].log_g - items_[to].log_g; };
  const auto grams = [&](std::size_t i) { return std::optional{items_[i].figure.grams}; };
  const double two = std::log(8 * model_.slip / pairs), three = std::log(model_.slip / 2 / triples);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j) {
      const std::array pair{i, j};
      push(Slip::swapped, pair, std::array{grams(j), grams(i)}, changed(pair, std::array{by(i, j), by(j, i)}), two);
      for (std::size_t k = j + 1; k < n; ++k) {
        const std::array all{i, j, k};
        push(Slip::swapped, all, std::array{grams(j), grams(k), grams(i)},
             changed(all, std::array{by(i, j), by(j, k), by(k, i)}), three);
        push(Slip::swapped, all, std::array{grams(k), grams(i), grams(j)},
             changed(all, std::array{by(i, k), by(j, i), by(k, j)}), three);
      }
    }
  // One pup weighed twice, under its own name and under another's.
  for (std::size_t j = 0; j < n; ++j)
    for (std::size_t i = 0; i < n; ++i) {
      if (i == j || items_[i].figure.pup == items_[j].figure.pup) continue;
      const double own = precision_[j * n + j], spread = items_[i].noise + items_[j].noise, apart = by(j, i);
      push(Slip::weighed_twice, std::array{j}, kWeighAgain,
           -0.5 * (std::log(spread) + apart * apart / spread) - 0.5 * (std::log(own) - pull_[j] * pull_[j] / own),
           std::log(model_.slip / 8 / static_cast<double>(n - 1)));
    }
}

void RoundCheck::whole_round() {
  const std::size_t n = items_.size();
  if (n < 3) return;
  std::size_t pups = 0;
  bool as_last = true;
  for (std::size_t i = 0; i < n; ++i) {
    const auto same = [&](const Item& o) { return o.figure.pup == items_[i].figure.pup; };
    if (std::none_of(items_.begin(), items_.begin() + static_cast<std::ptrdiff_t>(i), same)) ++pups;
    as_last = as_last && items_[i].last && *items_[i].last == items_[i].figure.grams;
  }
  if (pups < 3) return;
  // A common shift along `along`, normal with that mean and spread: ln factor, and the shift's likeliest size.
  const auto shift = [&](const std::vector<double>& along, double mean, double sd) {
    double a = 0, b = 0;
    for (std::size_t i = 0; i < n; ++i) {
      b += along[i] * pull_[i];
      for (std::size_t j = 0; j < n; ++j) a += along[i] * along[j] * precision_[i * n + j];
    }
    const double v = sd * sd, left = b - mean * a;
    return std::pair{
        -0.5 * std::log(1 + v * a) + 0.5 * v * left * left / (1 + v * a) + mean * b - 0.5 * mean * mean * a,
        mean + v * left / (1 + v * a)};
  };
  std::vector<double> per_gram(n), even(n, 1.0);
  for (std::size_t i = 0; i < n; ++i) per_gram[i] = 1 / std::exp(items_[i].log_g - items_[i].off);
  const auto [zero, size] = shift(per_gram, 0, kZeroSd);
  const double prior = std::log(model_.slip / 10);
  if (!counts(zero + prior) && !as_last) return;
  // Against it: the whole litter really fell (the dam), or the two oddest pups did.
  double most = 0, second = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double one = real(i);
    if (one > most)
      second = most, most = one;
    else
      second = std::max(second, one);
  }
  const double fell = std::max({0.0, shift(even, -0.04, 0.05).first + std::log(model_.real_change), most + second});
  if (!counts(zero - fell + prior) && !as_last) return;
  std::vector<std::size_t> all(n);
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::vector<std::optional<Grams>> would_be, unknown(n);
  for (const Item& item : items_) would_be.emplace_back(item.figure.grams - Grams{size});
  push(Slip::zero_error, all, would_be, zero - fell, prior);
  if (as_last) {
    double density = -0.5 * square_;
    for (const double pivot : pivots_) density -= 0.5 * std::log(2 * std::numbers::pi * pivot);
    for (const Item& item : items_) density += std::log(item.figure.step.count() / item.figure.grams.count());
    push(Slip::typed_again, all, unknown, -density, std::log(model_.slip / 5));
  }
}

void RoundCheck::think(const std::vector<double>& tubs) {
  const std::size_t n = items_.size();
  ideas_.clear();
  invert();
  const auto in_a_tub =
      std::count_if(items_.begin(), items_.end(), [](const Item& o) { return o.figure.tub.count() > 0; });
  // The only one of its round without a tub wants a thought, however well it fits.
  const auto wants_thought = [&](std::size_t i) {
    return oddness(i) > kOdd || (2 * in_a_tub > static_cast<long>(n) && !(items_[i].figure.tub.count() > 0));
  };
  bool odd = false;
  for (std::size_t i = 0; i < n; ++i) odd = odd || wants_thought(i);
  whole_round();
  if (!odd) return;
  for (std::size_t i = 0; i < n; ++i) {
    if (!wants_thought(i)) continue;
    tubs_left_on(i, tubs);
    digits(i);
    const double g = items_[i].figure.grams.count();
    for (const double unit : {kGramsPerOunce, 1 / kGramsPerOunce, kGramsPerOunce * kOuncesPerPound,
                              1 / (kGramsPerOunce * kOuncesPerPound), kOuncesPerPound, 1 / kOuncesPerPound})
      one(i, Slip::wrong_unit, g * unit, std::log(model_.slip / 3), 0);
  }
  swaps();
}

void RoundCheck::drop(std::vector<std::size_t> who) {
  std::sort(who.rbegin(), who.rend());
  for (const auto k : who) {
    const std::size_t n = items_.size();
    std::vector<double> left;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j)
        if (i != k && j != k) left.push_back(covariance_[i * n + j]);
    covariance_ = std::move(left);
    items_.erase(items_.begin() + static_cast<std::ptrdiff_t>(k));
  }
}

std::vector<RoundDoubt> RoundCheck::find(const std::vector<double>& tubs) {
  std::vector<RoundDoubt> out;
  // One at a time: a gross reading, once explained or known for a break, must not make its neighbours look odd.
  while (!items_.empty()) {
    think(tubs);
    // A reading is asked about when all the ways in which it may be wrong weigh enough together; the likeliest is
    // named.
    wrong_.assign(items_.size(), 0);
    for (const Idea& idea : ideas_)
      for (const auto i : idea.doubt.figures) wrong_[i] += std::exp(idea.log_odds);
    const auto best = std::max_element(ideas_.begin(), ideas_.end(),
                                       [](const Idea& a, const Idea& b) { return a.log_odds < b.log_odds; });
    if (best != ideas_.end() && std::any_of(best->doubt.figures.begin(), best->doubt.figures.end(),
                                            [&](auto i) { return std::log(wrong_[i]) >= model_.ask_at; })) {
      RoundDoubt doubt = best->doubt;
      for (auto& i : doubt.figures) i = items_[i].place;
      drop(best->doubt.figures);
      out.push_back(std::move(doubt));
      continue;
    }
    std::size_t worst = 0;
    for (std::size_t i = 1; i < items_.size(); ++i)
      if (oddness(i) > oddness(worst)) worst = i;
    if (!(real(worst) > 0 || oddness(worst) > kBroken)) break;
    broke_[items_[worst].place] = true;
    drop({worst});
  }
  return out;
}

}  // namespace lampside::growth
