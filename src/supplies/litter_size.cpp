#include "supplies/litter_size.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace lampside::supplies {
namespace {

using record::CountMethod;
using record::Litter;
using record::PupCount;
using reference::Reference;

constexpr std::size_t kMost = 30;  // as in the journal
constexpr double kNever = 1e-9;    // so that a count far beyond the breed's table still has a distribution
constexpr Span kAllBorn = std::chrono::hours{24};

using Chances = std::vector<double>;

double below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

void add_bell(Chances& to, double mean, double sd, double share) {
  double all = 0;
  Chances bell(to.size(), 0.0);
  for (std::size_t n = 1; n < to.size(); ++n) {
    const double x = static_cast<double>(n);
    all += bell[n] = below((x + 0.5 - mean) / sd) - below((x - 0.5 - mean) / sd);
  }
  for (std::size_t n = 1; n < to.size(); ++n) to[n] += share * bell[n] / all;
}

void scale(Chances& c) {
  const double all = std::accumulate(c.begin(), c.end(), 0.0);
  for (double& p : c) p /= all;
}

LitterSize before_any_count(const Litter& litter, const Reference& reference) {
  LitterSize out{Chances(kMost + 1, 0.0), "", reference.birth_weights.front().source};
  double sum = 0, spread = 0;
  int n = 0;
  for (const auto& e : litter.earlier)
    if (e.what.born_alive) sum += *e.what.born_alive + e.what.stillborn.value_or(0), ++n;
  if (const auto* row = reference::birth_weight_class(reference, litter.breed())) {
    double mean = row->litter_mean;
    out.says = fmt::format("litters of {}s have {} pups, give or take {}", litter.breed(), say_number(mean, 1),
                           say_number(row->litter_sd, 1));
    if (n > 0) {  // the mean of her own, as far as litters of one bitch are alike; the spread stays the breed's
      const double alike = parameter(reference, "dam_size_repeat");
      mean += n * alike / (1 + (n - 1) * alike) * (sum / n - mean);
      out.says += fmt::format("; with her own {} of {}: {}", n == 1 ? "litter" : fmt::format("{} litters", n),
                              say_number(sum / n, 1), say_number(mean, 1));
    }
    add_bell(out.chance, mean, row->litter_sd, 1);
    out.source = row->source;
    return out;
  }
  const auto breeds = static_cast<double>(reference.birth_weights.size());
  for (const auto& row : reference.birth_weights) spread += row.litter_sd / breeds;
  if (n > 0) {
    add_bell(out.chance, std::max(1.0, sum / n), spread, 1);
    out.says = fmt::format("her earlier litters had {} pups; the breed is not in the table", say_number(sum / n, 1));
    return out;
  }
  for (const auto& row : reference.birth_weights) add_bell(out.chance, row.litter_mean, row.litter_sd, 1 / breeds);
  out.says = "neither breed nor count is known: all breeds of the table together";
  return out;
}

/// How likely this count is where the truth is `n`, up to a factor.
double told_by(const PupCount& count, int n, const Reference& reference) {
  const int off = n - count.pups;
  if (count.method == CountMethod::xray) {
    if (off < 0) return 0;  // an X-ray count is a minimum
    if (count.at_least.value_or(true)) return 1;
    const double exact = parameter(reference, "count_xray_exact");
    return off == 0 ? exact : (1 - exact) * parameter(reference, "count_too_low") * std::pow(0.5, off);
  }
  const double exact = parameter(reference, "count_ultrasound_exact");
  const double within_one = parameter(reference, "count_ultrasound_within_one");
  if (off == 0) return exact;
  if (std::abs(off) == 1) return (within_one - exact) / 2;
  return (1 - within_one) * std::pow(0.5, std::abs(off));
}

const PupCount* best_count(const Litter& litter, Instant now) {
  const PupCount* xray = nullptr;
  const PupCount* other = nullptr;
  for (const auto& c : litter.counts)
    if (c.at <= now) (c.what.method == CountMethod::xray ? xray : other) = &c.what;
  return xray ? xray : other;
}

}  // namespace

int LitterSize::at(double share) const {
  double sum = 0;
  for (std::size_t n = 0; n < chance.size(); ++n) {
    sum += chance[n];
    if (sum >= share - 1e-12) return static_cast<int>(n);
  }
  return static_cast<int>(chance.size()) - 1;
}

LitterSize litter_size(const Litter& litter, const Reference& reference, Instant now) {
  LitterSize out = before_any_count(litter, reference);
  if (const auto* count = best_count(litter, now)) {
    for (std::size_t n = 0; n < out.chance.size(); ++n)
      out.chance[n] = (out.chance[n] + kNever * std::pow(0.3, static_cast<double>(n))) *
                      told_by(*count, static_cast<int>(n), reference);
    scale(out.chance);
    const bool xray = count->method == CountMethod::xray;
    out.says =
        fmt::format("{}{} counted by {}; beyond that, {}", xray && count->at_least.value_or(true) ? "at least " : "",
                    count->pups, xray ? "X-ray" : "ultrasound", out.says);
  }
  std::size_t born = 0, lost = 0, here = 0;
  std::optional<Instant> last;
  for (const auto& pup : litter.pups) {
    if (pup.birth.at > now) continue;
    ++born, ++(pup.in_box() ? here : lost);
    last = pup.birth.at;
  }
  if (born == 0) return out;
  if (now - *last >= kAllBorn) {
    out.chance.assign(kMost + 1, 0.0);
    out.chance[std::min(here, kMost)] = 1;
    out.says = fmt::format("{} in the box", here);
    return out;
  }
  // Still whelping: what is born already is certain, and those that were lost need nothing.
  Chances left(kMost + 1, 0.0);
  for (std::size_t n = 0; n <= kMost; ++n) {
    const double p = n < out.chance.size() && n >= born ? out.chance[n] : 0;
    if (n >= lost) left[n - lost] += p + (n == born ? kNever : 0);
  }
  scale(left);
  out.chance = left;
  out.says = fmt::format("{} born so far; {}", born, out.says);
  return out;
}

}  // namespace lampside::supplies
