// Doses on record and labels on record, looked at by the rules.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "care/given.hpp"
#include "care/round.hpp"
#include "measure/text.hpp"
#include "reference/rules.hpp"

namespace lampside::care {
namespace {

using record::Litter;
using record::Noted;
using reference::Finding;
using reference::Reference;

/// How far back doses are held against the label: an old dose cannot be mended any more.
constexpr Span kLooksBack = std::chrono::hours{7 * 24};
/// A dose without its own weight is held against the last weighing at most so long before it.
constexpr Span kWeighedBefore = std::chrono::hours{36};

struct Dog {
  std::string about;
  const Doses& doses;
  const std::vector<Noted<record::Weight>>& weights;
  std::optional<Instant> born;  ///< pups only
};

class Looker {
 public:
  Looker(const Litter& litter, const Reference& reference, Instant now)
      : litter_{litter}, reference_{reference}, now_{now} {
    for (const auto& p : litter.products) labels_.emplace(p.what.name, read_label(p.what, reference));
  }

  std::vector<Finding> look() {
    for (const auto& pup : litter_.pups) look_at({pup.label, pup.doses, pup.weights, pup.birth.at});
    look_at({"dam", litter_.dam_doses, litter_.dam_weights, {}});
    if (!unchecked_.empty()) {
      std::string names;
      for (const auto& [name, count] : unchecked_)
        names += (names.empty() ? "" : ", ") +
                 fmt::format("{} ({})", name, count == 1 ? "1 dose" : fmt::format("{} doses", count));
      count("DOSE_NOT_CHECKED", 1, "litter", names + ": no label, amount or weight to hold them against",
            unchecked_since_);
    }
    for (const auto& p : litter_.products) look_at_label(p);
    return std::move(out_);
  }

 private:
  void count(std::string_view code, int n, const std::string& about, std::string because,
             std::optional<Instant> since) {
    if (const auto* rule = reference::worst_reached(reference_.count_rules, code, n))
      out_.push_back(reference::found(*rule, about, std::move(because), since));
  }
  void percent(std::string_view code, double pct, const std::string& about, std::string because, Instant since) {
    if (const auto* rule = reference::worst_reached(reference_.percent_rules, code, Percent{pct}))
      out_.push_back(reference::found(*rule, about, std::move(because), since));
  }
  [[nodiscard]] std::string when(Instant t) const { return say_day_time(litter_.zone, t); }
  [[nodiscard]] CivilDay day(Instant t) const { return litter_.zone.day_of(t); }
  [[nodiscard]] const Label* label_of(const std::string& product) const {
    const auto found = labels_.find(product);
    return found == labels_.end() || !found->second ? nullptr : &*found->second;
  }
  static std::string amount(const record::Dose& d) {
    for (const auto in : {Measured::ml, Measured::tablets, Measured::grams})
      if (const auto p = portion_given(d, in)) return say(*p);
    return "an amount not written down";
  }
  [[nodiscard]] std::string told(const Noted<record::Dose>& d) const {
    return amount(d.what) + " at " + when(d.at) + (d.by.empty() ? "" : ", written by " + d.by);
  }

  void look_at(const Dog& dog) {
    std::map<std::string, std::vector<const Noted<record::Dose>*>> by_product;
    for (const auto& d : dog.doses) {
      if (d.at > now_) continue;
      if (now_ - d.at <= kLooksBack) {
        against_label(dog, d);
        beside_others(dog, d);
      }
      by_product[d.what.product].push_back(&d);
    }
    for (const auto& [product, doses] : by_product) twice(dog, product, doses);
  }

  /// Two treatments where the label has one: on one day, or two courses within the interval.
  void twice(const Dog& dog, const std::string& product, const std::vector<const Noted<record::Dose>*>& doses) {
    const Label* label = label_of(product);
    const int in_row = label ? label->days_in_row : 1;
    const double interval = label && label->repeat ? label->repeat->count() : 1;
    const Noted<record::Dose>* begun = nullptr;  // the first dose of the course the walk is in
    const Noted<record::Dose>* before = nullptr;
    int days = 0;
    for (const auto* d : doses) {
      const auto gap = before ? (day(d->at) - day(before->at)).count() : 0;
      const bool same_day = before && gap == 0;
      const bool goes_on = before && gap == 1 && days < in_row;
      // A day or two early is no second dose: half the interval is our line.
      const bool soon = begun && static_cast<double>((day(d->at) - day(begun->at)).count()) < interval / 2;
      if ((same_day || (soon && !goes_on)) && now_ - d->at <= kLooksBack)
        count("DOSE_TWICE", 2, dog.about, fmt::format("{}: {}, and {}", product, told(*before), told(*d)), d->at);
      if (!before || (!same_day && !goes_on))
        begun = d, days = 1;
      else if (goes_on)
        ++days;
      before = d;
    }
  }

  void beside_others(const Dog& dog, const Noted<record::Dose>& d) {
    const auto actives = actives_given(d.what, litter_);
    for (const auto& other : dog.doses) {
      if (other.what.product == d.what.product || other.at > d.at || (other.at == d.at && other.id >= d.id)) continue;
      const auto others = actives_given(other.what, litter_);
      const bool opposed = (names_active(actives, "piperazine") && names_active(others, "pyrantel")) ||
                           (names_active(actives, "pyrantel") && names_active(others, "piperazine"));
      const auto window =
          Span{static_cast<long long>(reference::parameter(reference_, "dose_antagonist_h") * 3'600'000)};
      if (opposed && d.at - other.at < window)
        count("DOSE_ANTAGONISTS", 1, dog.about,
              fmt::format("{} on {}, {} on {}", other.what.product, when(other.at), d.what.product, when(d.at)), d.at);
      else if (day(other.at) == day(d.at) && is_wormer(d.what, litter_) && is_wormer(other.what, litter_))
        count("DOSE_TWO_WORMERS", 2, dog.about,
              fmt::format("{} at {}, {} at {}", other.what.product, when(other.at), d.what.product, when(d.at)), d.at);
    }
  }

  [[nodiscard]] std::optional<Kilograms> weight_for(const Dog& dog, const Noted<record::Dose>& d) const {
    if (d.what.weight_g) return to_kilograms(*d.what.weight_g);
    std::optional<Kilograms> out;
    for (const auto& w : dog.weights)
      if (w.at <= d.at && d.at - w.at <= kWeighedBefore) out = to_kilograms(w.what.grams);
    return out;
  }

  void against_label(const Dog& dog, const Noted<record::Dose>& d) {
    const Label* label = label_of(d.what.product);
    const auto given = label ? portion_given(d.what, label->strength.per) : std::nullopt;
    const auto dog_weight = weight_for(dog, d);
    if (!label || !given || !dog_weight) {
      ++unchecked_[d.what.product];
      if (!unchecked_since_ || d.at < *unchecked_since_) unchecked_since_ = d.at;
      if (!label) return;
    }
    const auto age = dog.born ? (day(d.at) - day(*dog.born)).count() : 100'000;
    const bool young = label->min_age && static_cast<double>(age) < label->min_age->count();
    const bool light = label->min_weight && dog_weight && *dog_weight < *label->min_weight - Kilograms{1e-9};
    if (young || light)
      count("DOSE_UNDER_FLOOR", 1, dog.about,
            young ? fmt::format("{} at {} days old; the label begins at {}", d.what.product, age,
                                say_number(label->min_age->count(), 0))
                  : fmt::format("{} at {} kg; the label begins at {} kg", d.what.product,
                                say_number(dog_weight->count(), 3), say_number(label->min_weight->count(), 3)),
            d.at);
    if (!given || !dog_weight) return;
    Label free = *label;  // the label's floors and ceilings speak above; here only how much
    free.min_weight.reset();
    free.at_most.reset();
    const auto worked = dosage(free, *dog_weight);
    const auto* dose = reference::value_of(worked);
    if (!dose) return;
    // Another bottle may have been stronger than the label now on record: what counts is the active.
    double amount = given->count;
    if (d.what.mg_ml && label->strength.per == Measured::ml && label->strength.mg.size() == 1)
      amount *= d.what.mg_ml->count() / label->strength.mg.front().count();
    const double off = amount - dose->exact.count, mark = label->mark.value_or(0) + 1e-9;
    const double pct = std::fabs(off) <= mark ? 0 : 100 * off / dose->exact.count;
    const auto because = fmt::format("{}: {} given for {} kg, the label calls for {} ({} {} %)", d.what.product,
                                     say(*given), say_number(dog_weight->count(), 3), say(dose->exact),
                                     say_number(std::fabs(pct), 0), pct > 0 ? "over by" : "short by");
    percent("DOSE_OVER", pct, dog.about, because, d.at);
    percent("DOSE_UNDER", pct, dog.about, because, d.at);
  }

  void look_at_label(const Noted<record::Product>& p) {
    const auto& label = labels_.at(p.what.name);
    if (!label) {
      if (p.what.strength && label.error().code.starts_with("STRENGTH_"))
        count("LABEL_STRENGTH", 1, "litter", p.what.name + ": " + label.error().what, p.at);
      return;
    }
    if (label->strength_doubt && !label->confirmed)
      count("LABEL_STRENGTH", 1, "litter", p.what.name + ": " + *label->strength_doubt, p.at);
    if (label->use_by) {
      const auto past = static_cast<double>((day(now_) - *label->use_by).count());
      if (const auto* rule = reference::worst_reached(reference_.day_rules, "LABEL_EXPIRED", Days{past}))
        out_.push_back(reference::found(*rule, "litter",
                                        fmt::format("{} was to be used up to {}", p.what.name, say_day(*label->use_by)),
                                        litter_.zone.start_of(*label->use_by + std::chrono::days{1})));
    }
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  std::map<std::string, Result<Label>> labels_;
  std::map<std::string, int> unchecked_;
  std::optional<Instant> unchecked_since_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> dose_findings(const Litter& litter, const Reference& reference, Instant now) {
  return Looker(litter, reference, now).look();
}

}  // namespace lampside::care
