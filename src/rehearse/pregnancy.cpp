#include "rehearse/pregnancy.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "due/model.hpp"
#include "reference/rules.hpp"

namespace lampside::rehearse {
namespace {

using record::Litter;
using reference::Reference;
using reference::to_span;

Span hours(double h) { return to_span(Days{h / 24}); }
Instant after(Instant t, double days) { return t + to_span(Days{days}); }
double hours_between(Instant a, Instant b) { return 24 * reference::days_between(a, b); }

template <class T>
void note(std::vector<record::Noted<T>>& into, Instant at, T what) {
  const auto where = std::find_if(into.begin(), into.end(), [&](const auto& one) { return one.at > at; });
  into.insert(where, {at, std::move(what), "", "", ""});
}

/// ln ng/ml of the mean course, so many hours after the surge or before whelping.
double mean_progesterone(const Reference& reference, std::string_view around, double h) {
  const reference::ProgesteroneCourse *below = nullptr, *above = nullptr;
  for (const auto& row : reference.progesterone_course) {
    if (row.around != around) continue;
    if (row.hours <= h && (!below || row.hours > below->hours)) below = &row;
    if (row.hours >= h && (!above || row.hours < above->hours)) above = &row;
  }
  if (!below || !above || below == above) return std::log((below ? below : above)->ng_ml);
  const double part = (h - below->hours) / (above->hours - below->hours);
  return std::lerp(std::log(below->ng_ml), std::log(above->ng_ml), part);
}

}  // namespace

double Simulator::value(std::string_view name) const { return reference::parameter(reference_, name); }

Instant Simulator::maybe_astray(Instant at) {
  return dice_.happens(world_.gross) ? after(at, value("gross_error_scale_d") * dice_.astray()) : at;
}

Instant Simulator::judged_day(const Litter& litter, Instant truth, double sd_d) {
  const double beside_the_day = std::sqrt(std::max(0.0, sd_d * sd_d - due::kWholeDaySd * due::kWholeDaySd));
  return due::middle_of_its_day(litter, maybe_astray(after(truth, dice_.normal(0, beside_the_day))));
}

Litter Simulator::litter(std::string_view breed, double kg) {
  Litter out{};
  out.facts.dam = record::Parent{"Juniper", std::string(breed), {}, Kilograms{kg}, {}};
  return out;
}

Pregnancy Simulator::pregnancy(std::string_view breed, Instant from) {
  Pregnancy p{};
  const auto* row = reference::birth_weight_class(reference_, breed);
  const double mean = row ? row->litter_mean : 5.4, sd = row ? row->litter_sd : 2.6;
  p.pups = std::max(1, static_cast<int>(std::lround(dice_.normal(mean, sd))));
  p.habit_d = dice_.normal(0, spread("dam_habit_sd_d"));
  p.scan_bias = dice_.normal(0, world_.stretch);
  p.assay_ln = dice_.normal(0, spread("progesterone_assay_ln"));
  p.late_ln = dice_.normal(0, spread("late_progesterone_level_ln"));
  p.no_fall = dice_.happens(value("small_litter_no_fall"));
  p.level_c = dice_.normal(value("temperature_level_c"), spread("temperature_level_sd_c"));
  p.swing_c = dice_.normal(value("temperature_swing_c"), spread("temperature_swing_sd_c"));
  p.drop_c = dice_.happens(value("temperature_no_drop"))
                 ? 0
                 : dice_.normal(value("temperature_drop_c"), spread("temperature_drop_sd_c"));
  double to_dioestrus = value("lh_to_dioestrus_d");
  for (const auto& shift : reference_.gestation_shifts)
    if (shift.chosen && due::same_word(shift.breed, breed)) to_dioestrus += shift.shift_d.count();
  // The published spread from dioestrus to whelping holds over all litter sizes and all bitches: what size and habit
  // explain is taken out of it.
  const double by_size = row ? value("litter_size_shift_d") : 0, whole = value("dioestrus_to_whelping_sd_d"),
               habit = value("dam_habit_sd_d");
  const double rest = std::sqrt(std::max(0.09, whole * whole - habit * habit - by_size * by_size * sd * sd));
  p.lh = from + hours(dice_.uniform(0, 240));
  p.dioestrus = after(p.lh, dice_.normal(to_dioestrus, spread("lh_to_dioestrus_sd_d")));
  p.whelping = after(p.dioestrus, value("dioestrus_to_whelping_d") + by_size * (p.pups - mean) + p.habit_d +
                                      dice_.normal(0, rest * world_.stretch));
  return p;
}

void Simulator::matings(Litter& litter, const Pregnancy& p, int times, bool timed) {
  double day = 0;
  do {
    day = timed ? dice_.normal(value("timed_mating_after_lh_d"), spread("timed_mating_after_lh_sd_d"))
                : dice_.normal(value("mating_after_lh_d"), spread("mating_after_lh_sd_d"));
  } while (day < value("fertile_from_d") || day > value("fertile_to_d"));
  // That was the one that took; the others lie two days apart around it.
  const Instant took = maybe_astray(after(p.lh, day));
  const int place = dice_.pick(times);
  for (int i = 0; i < times; ++i) note(litter.matings, took + hours(48.0 * (i - place)), record::Mating{});
}

void Simulator::lh_surge(Litter& litter, const Pregnancy& p) {
  note(litter.lh_surges, judged_day(litter, p.lh, spread("lh_read_sd_d")), record::LhSurge{});
}
void Simulator::ovulation(Litter& litter, const Pregnancy& p) {
  const Instant truth = after(p.lh, value("lh_to_ovulation_d"));
  note(litter.ovulations, judged_day(litter, truth, spread("ovulation_read_sd_d")), record::Ovulation{});
}
void Simulator::dioestrus(Litter& litter, const Pregnancy& p) {
  note(litter.dioestrus, judged_day(litter, p.dioestrus, spread("dioestrus_read_sd_d")), record::Dioestrus{});
}

void Simulator::progesterone(Litter& litter, const Pregnancy& p, double every_d) {
  const bool nmol = dice_.happens(world_.gross);
  double day = dice_.uniform(-5, -1);
  for (int i = 0; i < 8; ++i, day += every_d) {
    const double ln = mean_progesterone(reference_, "lh_surge", 24 * day) + p.assay_ln +
                      dice_.normal(0, spread("progesterone_noise_ln"));
    const double ng = std::exp(ln);
    note(litter.progesterone, after(p.lh, day), record::Progesterone{NgPerMl{std::min(nmol ? 3.18 * ng : ng, 150.0)}});
    if (ng > 5) return;
  }
}

void Simulator::late_progesterone(Litter& litter, const Pregnancy& p, Instant at) {
  double before = hours_between(at, p.whelping);
  if (p.pups <= 2 && p.no_fall) before = std::max(before, 120.0);
  const double sd = std::lerp(spread("late_progesterone_fall_ln"), spread("late_progesterone_plateau_ln"),
                              std::clamp((before - 36) / 20, 0.0, 1.0));
  double ln = mean_progesterone(reference_, "whelping", before) + p.late_ln + dice_.normal(0, sd);
  if (dice_.happens(value("late_progesterone_odd")))
    ln = std::log(4.5) + dice_.normal(0, value("late_progesterone_odd_ln"));
  note(litter.progesterone, at, record::Progesterone{NgPerMl{std::exp(ln)}});
}

void Simulator::scan(Litter& litter, const Pregnancy& p, std::string_view measure, Instant at) {
  const auto* row = due::foetometry_row(reference_, litter, measure);
  if (!row) return;
  const double gestation = value("dioestrus_to_whelping_sd_d"), day57 = value("dioestrus_to_whelping_d");
  const double to_go = day57 - reference::days_between(p.dioestrus, at);
  const double published = (to_go < 65 - 39 ? row->late_sd_d : row->early_sd_d).count();
  const double sd = std::sqrt(std::max(published * published - gestation * gestation, 0.16));
  double read = to_go + sd * (0.73 * p.scan_bias + 0.683 * dice_.normal(0, world_.stretch));
  if (dice_.happens(world_.gross)) read += value("gross_error_scale_d") * dice_.astray();
  const double says = row->gives_age ? 65 - read : read;
  const double mm = (says - row->at_zero) / row->per_mm;
  if (mm >= 1) note(litter.foetal_measures, at, record::FoetalMeasure{std::string(measure), Millimetres{mm}});
}

void Simulator::xray(Litter& litter, const Pregnancy& p, Instant at) {
  const double before = reference::days_between(at, p.whelping);
  if (before > dice_.normal(value("skeleton_shows_before_d"), spread("skeleton_shows_sd_d"))) return;  // nothing seen
  const double slip = dice_.uniform();
  const int off = slip < 0.65 ? 0 : slip < 0.9 ? (dice_.happens(0.6) ? -1 : 1) : (dice_.happens(0.6) ? -2 : 2);
  note(litter.counts, at, record::PupCount{record::CountMethod::xray, std::max(1, p.pups + off), {}});
}

void Simulator::temperature(Litter& litter, Pregnancy& p, Instant at) {
  static thread_local const Reference* of = nullptr;
  static thread_local std::vector<double> course;
  if (of != &reference_) course = due::drop_course(reference_, 72), of = &reference_;
  const double before = std::clamp(hours_between(at, p.whelping), 0.0, 71.99);
  const auto h = static_cast<std::size_t>(before);
  const double shows = std::lerp(course[h], course[h + 1], before - static_cast<double>(h));
  const double clock = static_cast<double>(litter.zone.time_of_day(at).count()) / 60;
  // Her level wanders from reading to reading; what it was at the last one is kept in the pregnancy.
  if (p.last_temperature)
    p.level_c += dice_.normal(
        0, spread("temperature_wander_c") * std::sqrt(std::max(0.0, reference::days_between(*p.last_temperature, at))));
  p.last_temperature = at;
  double c = p.level_c - p.swing_c * std::cos((clock - 5) / 24 * 2 * std::numbers::pi) - p.drop_c * shows +
             dice_.normal(0, spread("temperature_noise_c"));
  if (dice_.happens(value("temperature_misread")))
    c = dice_.normal(value("temperature_level_c"), value("temperature_misread_sd_c"));
  note(litter.dam_temperatures, at, record::Temperature{Celsius{c}, {}});
}

void Simulator::signs(Litter& litter, const Pregnancy& p, Instant until) {
  for (const auto& lead : reference_.sign_leads) {
    const auto sign = record::from_name<record::Sign>(lead.sign);
    if (!sign) continue;
    // Noted by chance at any hour, and so many times as often near whelping as the table says.
    for (double before = 240; before > 0; before -= 1) {
      const Instant at = p.whelping - hours(before);
      if (at > until) break;
      const double often = 0.004 * (1 + (lead.times - 1) * std::exp(-before / lead.fades_h.count()));
      if (dice_.happens(often)) note(litter.signs, at, record::SignSeen{*sign});
    }
  }
}

void Simulator::earlier_litter(Litter& litter, const Pregnancy& p) {
  double mean = value("lh_to_dioestrus_d") + value("dioestrus_to_whelping_d") - value("mating_after_lh_d");
  const double gestation = std::hypot(value("lh_to_dioestrus_sd_d"), value("dioestrus_to_whelping_sd_d"));
  const double read = std::hypot(gestation, value("mating_after_lh_sd_d")) * world_.stretch;
  for (const auto& shift : reference_.gestation_shifts)
    if (shift.chosen && due::same_word(shift.breed, litter.breed())) mean += shift.shift_d.count();
  const double days = std::round(mean + p.habit_d + dice_.normal(0, read));
  note(litter.earlier, p.lh - hours(24 * 300),
       record::EarlierLitter{record::Anchor::mating, Days{days}, {}, {}, {}, {}});
}

}  // namespace lampside::rehearse
