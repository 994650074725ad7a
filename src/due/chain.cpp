#include "due/chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace lampside::due {
namespace {

using record::Litter;
using reference::Reference;
using std::chrono::hours;

Adjustment adjustment(std::string says, double shift_d, reference::Citation source) {
  return {std::move(says), Days{shift_d}, source};
}
std::string days_more(double days) {
  if (std::abs(days) < 0.05) return "as usual";
  return fmt::format("{} days {}", say_number(std::abs(days), 1), days < 0 ? "earlier" : "later");
}

/// The breed's own figure, and what another study says of it.
std::optional<Adjustment> by_breed(const Litter& litter, const Reference& reference) {
  std::optional<Adjustment> out;
  std::string others;
  for (const auto& row : reference.gestation_shifts) {
    if (!same_word(row.breed, litter.breed())) continue;
    const double shift = row.shift_d.count();
    if (row.chosen)
      out = adjustment(fmt::format("{}: {} than other breeds", row.breed, days_more(shift)), shift, row.source);
    else
      others += fmt::format("; {} by {}", days_more(shift), row.source.work);
  }
  if (out) out->says += others;
  return out;
}

/// This dam's own habit from her earlier litters, shrunk: one litter is hardly heard, many are.
std::optional<Adjustment> by_habit(const Litter& litter, const Reference& reference, const Chain& chain) {
  if (litter.earlier.empty()) return std::nullopt;
  const auto value = [&](std::string_view name) { return parameter(reference, name); };
  const double between = value("dam_habit_sd_d");
  const double lh_to_whelping = chain.to_dioestrus.mean_d + chain.to_whelping.mean_d;
  const double gestation = std::hypot(chain.to_dioestrus.sd_d, chain.to_whelping.sd_d);
  double weight = 1 / (between * between), sum = 0;
  for (const auto& e : litter.earlier) {
    double mean = lh_to_whelping, read = value("lh_read_sd_d");
    if (e.what.from == record::Anchor::ovulation) {
      mean -= value("lh_to_ovulation_d");
      read = value("ovulation_read_sd_d");
    } else if (e.what.from == record::Anchor::mating) {
      mean -= value("mating_after_lh_d");
      read = value("mating_after_lh_sd_d");
    }
    const double own = 1 / (gestation * gestation + read * read);
    weight += own;
    sum += own * (e.what.days.count() - mean);
  }
  const double shift = sum / weight;
  return adjustment(
      fmt::format("{}: {}",
                  litter.earlier.size() == 1 ? std::string("her earlier litter, lightly weighed")
                                             : fmt::format("her {} earlier litters", litter.earlier.size()),
                  days_more(shift)),
      shift,
      {"Lampside's own reading",
       "no figure of how alike one bitch's gestations are was found, so one litter is hardly heard",
       reference::Standing::common_practice});
}

/// What is usual for her: her breed's mean litter, else that of her weight class.
std::optional<double> usual_litter(const Litter& litter, const Reference& reference) {
  if (const auto* breed = reference::birth_weight_class(reference, litter.breed())) return breed->litter_mean;
  const auto kg = dam_kg(litter);
  if (!kg) return std::nullopt;
  return parameter(reference, *kg <= 10   ? "litter_mean_small"
                              : *kg <= 25 ? "litter_mean_medium"
                              : *kg <= 45 ? "litter_mean_large"
                                          : "litter_mean_giant");
}

std::optional<Adjustment> by_litter_size(const Litter& litter, const Reference& reference) {
  const auto pups = pups_counted(litter);
  const auto usual = usual_litter(litter, reference);
  if (!pups || *pups == 0 || !usual) return std::nullopt;
  const double shift = parameter(reference, "litter_size_shift_d") * (*pups - *usual);
  return adjustment(fmt::format("{} {} against {} usual: {}; another study instead: one day later for four or fewer "
                                "(Eilts et al. 2005)",
                                *pups, *pups == 1 ? "pup" : "pups", say_number(*usual, 1), days_more(shift)),
                    shift,
                    {"Gavrilovic et al. 2008, Theriogenology (Drever, 224 whelpings)",
                     "a quarter of a day earlier for each pup above the breed's mean", reference::Standing::published});
}

}  // namespace

Chain chain_of(const Litter& litter, const Reference& reference) {
  const auto value = [&](std::string_view name) { return parameter(reference, name); };
  Chain chain{{value("lh_to_dioestrus_d"), value("lh_to_dioestrus_sd_d")},
              {value("dioestrus_to_whelping_d"), value("dioestrus_to_whelping_sd_d")},
              {}};
  const auto apply = [&](Step& step, const std::optional<Adjustment>& adjustment) {
    if (!adjustment) return;
    step.mean_d += adjustment->shift.count();
    chain.adjustments.push_back(*adjustment);
  };
  // The published breed shifts were measured from the progesterone rise; dioestrus + 57 held across breeds.
  apply(chain.to_dioestrus, by_breed(litter, reference));
  const auto habit = by_habit(litter, reference, chain);  // against her breed's mean litter
  apply(chain.to_whelping, by_litter_size(litter, reference));
  apply(chain.to_whelping, habit);
  return chain;
}

Axes axes_for(Instant first, Instant last, const Chain& chain) {
  const auto back = [](Instant from, double days) { return from - hours{std::lround(days * 24)}; };
  const auto between = [](Instant a, Instant b) { return Axis{a, static_cast<std::size_t>((b - a) / hours{1}) + 1}; };
  const double whole = chain.to_dioestrus.mean_d + chain.to_whelping.mean_d, late = chain.to_whelping.mean_d;
  return {between(back(first, whole + 9), back(last, whole - 9)), between(back(first, late + 8), back(last, late - 8)),
          between(first, last)};
}

Density pass_on(const Density& in, const Axis& from, const Axis& to, const Step& step) {
  Density out(to.cells, 0.0);
  const double total = std::accumulate(in.begin(), in.end(), 0.0);
  if (!(total > 0)) return out;
  // Where cell 0 goes.
  const double offset = static_cast<double>((from.start - to.start).count()) / 3'600'000.0 + step.mean_d * 24;
  const double sd = step.sd_d * 24;
  const long reach = std::lround(9 * sd);
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
    if (in[i] < total * 1e-18) continue;
    const long first = static_cast<long>(i) + base - reach;  // where the kernel's cell 0 falls
    const long k0 = std::max(0L, -first);
    const long k1 = std::min(static_cast<long>(kernel.size()), static_cast<long>(out.size()) - first);
    if (k0 >= k1) continue;
    const double carried = in[i];
    const double* weight = kernel.data() + k0;
    double* into = out.data() + first + k0;
    for (long k = 0; k < k1 - k0; ++k) into[k] += carried * weight[k];
  }
  return out;
}

}  // namespace lampside::due
