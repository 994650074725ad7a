// Loss, no gain, slow gain, late doubling, birth-weight class, weighing overdue.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "growth/tracker.hpp"
#include "growth/weighings.hpp"
#include "reference/rules.hpp"

namespace lampside::growth {
namespace {

using record::Litter;
using record::Pup;
using reference::days_between;
using reference::Finding;
using reference::found;
using reference::reached;
using reference::Reference;
using reference::rule_of;
using reference::worst_reached;
using std::chrono::hours;

class Asking {
 public:
  Asking(const Litter& litter, const Reference& reference, Instant now, const Course& course)
      : litter_{litter}, reference_{reference}, model_{reference}, now_{now}, course_{course} {}

  std::vector<Finding> all() {
    int here = 0;
    for (const Pup& pup : litter_.pups) {
      if (!pup.in_box() || pup.birth.at > now_) continue;
      ++here;
      one(pup);
    }
    several(here);
    by_the_model();
    return std::move(out_);
  }

 private:
  using Reading = record::Noted<record::Weight>;

  std::string grams(Grams g) const { return say(g, litter_.units().weight); }
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }
  std::string step(const Reading& from, const Reading& to) const {
    return fmt::format("{} on {}, {} on {} ({})", grams(from.what.grams), when(from.at), grams(to.what.grams),
                       when(to.at), say(percent_change(from.what.grams, to.what.grams)));
  }
  template <class Rule>
  void say_it(const Rule* rule, const Pup& pup, std::string because, std::optional<Instant> since) {
    if (rule) out_.push_back(found(*rule, pup.label, std::move(because), since));
  }

  void one(const Pup& pup) {
    const double age = days_between(pup.birth.at, now_);
    const auto all = weighings(litter_, pup, reference_, now_);
    at_birth(pup, age);
    if (all.empty()) {
      if (const auto* rule = worst_reached(reference_.span_rules, "FIRST_WEIGHT_LATE",
                                           std::chrono::floor<Minutes>(now_ - pup.birth.at)))
        say_it(rule, pup, fmt::format("born {} and not weighed yet", when(pup.birth.at)), pup.birth.at + rule->limit);
      return;
    }
    const Reading* last = nullptr;
    for (const auto& w : all)
      if (!w.in_doubt) last = w.reading;
    if (all.back().in_doubt && last)
      say_it(
          rule_of(reference_.percent_rules, "WEIGHT_JUMP"), pup,
          step(*last, *all.back().reading) + ": more than any pup gains; was the tub still on, or was it another pup?",
          all.back().reading->at);
    if (age < 21)
      if (const auto* rule = worst_reached(reference_.span_rules, "WEIGH_LATE",
                                           std::chrono::floor<Minutes>(now_ - all.back().reading->at)))
        say_it(rule, pup,
               fmt::format("last weighed {}, {} ago", when(all.back().reading->at),
                           say_span(now_ - all.back().reading->at)),
               all.back().reading->at + rule->limit);
    if (!last) return;
    const bool losing = loss(pup, *last, all);
    if (!losing) gain(pup, *last, all);
    doubling(pup, *last, days_between(pup.birth.at, last->at));
  }

  void at_birth(const Pup& pup, double age) {
    const auto first = birth_weight(pup);
    if (!first) return;
    if (const auto* breed = reference::birth_weight_class(reference_, litter_.breed())) {
      const std::string told =
          fmt::format("{} at birth; for a {} normal begins at {}, very low is under {}", grams(first->what.grams),
                      litter_.breed(), grams(breed->normal_from_g), grams(breed->very_low_below_g));
      if (first->what.grams < breed->very_low_below_g && age < 21) {
        add_birth("BIRTH_VERY_LOW", pup,
                  told + fmt::format("; {} of such pups died by day 21, {} of normal ones",
                                     say(breed->dead_very_low_pct), say(breed->dead_normal_pct)),
                  *breed);
      } else if (first->what.grams < breed->normal_from_g && age < 2) {
        add_birth("BIRTH_LOW", pup, told, *breed);
      }
    }
    double sum = 0;
    int count = 0;
    for (const Pup& other : litter_.pups)
      if (const auto w = birth_weight(other); w && other.born_alive()) sum += w->what.grams.count(), ++count;
    const auto* rule = rule_of(reference_.percent_rules, "LIGHT_IN_LITTER");
    if (!rule || count < 3 || age >= 7) return;
    const Grams mean{sum / count};
    if (reached(*rule, percent_change(mean, first->what.grams)))
      say_it(rule, pup,
             fmt::format("{} at birth, {} against the litter's mean of {}", grams(first->what.grams),
                         say(percent_change(mean, first->what.grams)), grams(mean)),
             pup.birth.at);
  }
  /// The limit is the breed's own, so the citation is that row's.
  void add_birth(std::string_view code, const Pup& pup, std::string because, const reference::BirthWeightClass& breed) {
    say_it(rule_of(reference_.count_rules, code), pup, std::move(because), pup.birth.at);
    if (!out_.empty() && out_.back().code == code) out_.back().source = breed.source;
  }

  /// Loss since birth (first week), or a fall of a tenth since the weighing before.
  bool loss(const Pup& pup, const Reading& last, const std::vector<Weighing>& all) {
    const auto first = birth_weight(pup);
    const auto* ten = rule_of(reference_.percent_rules, "LOSS_TEN");
    const auto* four = rule_of(reference_.percent_rules, "LOSS_TWO_DAYS");
    const auto* earlier = before(all, last.at, hours{4});
    const double age = days_between(pup.birth.at, last.at);
    // One step of a coarse scale can look like a loss: then the honest answer is "cannot tell yet". A twentieth more,
    // since an ounce is often set down as 28 g, and sums leave dust.
    const auto one_step = [&](const Reading& from) {
      return from.what.grams - last.what.grams <= scale_step(litter_) * 1.05;
    };
    if (ten && earlier && reached(*ten, percent_change(earlier->what.grams, last.what.grams))) {
      if (one_step(*earlier)) return too_coarse(pup, *earlier, last), true;
      return say_it(ten, pup, step(*earlier, last), last.at), true;
    }
    if (ten && fell(pup, *ten)) return true;
    if (!first || age >= 7 || last.id == pup.birth.id) return false;
    const Percent change = percent_change(first->what.grams, last.what.grams);
    if (ten && reached(*ten, change)) {
      if (one_step(*first)) return too_coarse(pup, *first, last), true;
      return say_it(ten, pup, step(*first, last), last.at), true;
    }
    if (!four || !reached(*four, change)) return false;
    if (one_step(*first)) return too_coarse(pup, *first, last), true;
    return say_it(four, pup, step(*first, last), last.at), true;
  }

  /// A fall in small steps is a fall too: from its best within a week, as all weighings together say, so that one false
  /// reading makes none.
  bool fell(const Pup& pup, const reference::PercentRule& ten) {
    const auto curve = course_.curves.find(pup.label);
    if (curve == course_.curves.end()) return false;
    const CurvePoint& end = curve->second.back();
    const CurvePoint* best = &end;
    for (const CurvePoint& point : curve->second)
      if (end.at - point.at <= hours{7 * 24} && point.weight > best->weight) best = &point;
    const Percent change = percent_change(best->weight, end.weight);
    if (!reached(ten, change) || best->weight - end.weight <= scale_step(litter_) * 1.05) return false;
    say_it(&ten, pup,
           fmt::format("about {} on {}, about {} on {} ({}), by all its weighings", grams(best->weight), when(best->at),
                       grams(end.weight), when(end.at), say(change)),
           end.at);
    return true;
  }

  /// Whether the scale can tell standing still from the least gain the book allows: one step of it may hide that much.
  bool can_tell(const Reading& from, const Reading& to, double age) const {
    const auto* slow = rule_of(reference_.percent_rules, age < 7 ? "SLOW_GAIN_WEEK1" : "SLOW_GAIN_WEEKS2_4");
    const double least = age < 28 && slow ? slow->limit.count() / 100 : model_.need(Days{age});
    const double gained = (to.what.grams - from.what.grams).count();
    return from.what.grams.count() * std::expm1(least * days_between(from.at, to.at)) >
           gained + scale_step(litter_).count() * 1.05;
  }

  /// Standing still, by the nearest weighing before that lies far enough back for this scale.
  bool no_gain(const Pup& pup, const Reading& last, const std::vector<Weighing>& all, double age) {
    const auto* none = rule_of(reference_.percent_rules, "NO_GAIN");
    if (!none) return false;
    // From four weeks on weaning makes single days uneven.
    const Span apart = age < 28 ? Span{hours{12}} : Span{hours{24}};
    const Reading* unsure = nullptr;
    for (auto w = all.rbegin(); w != all.rend(); ++w) {
      const Reading& earlier = *w->reading;
      if (w->in_doubt || earlier.at + apart > last.at) continue;
      if (!reached(*none, percent_change(earlier.what.grams, last.what.grams))) break;
      if (can_tell(earlier, last, age)) return say_it(none, pup, step(earlier, last), last.at), true;
      if (!unsure) unsure = &earlier;
    }
    if (!unsure) return false;
    too_coarse(pup, *unsure, last);
    return true;
  }
  void too_coarse(const Pup& pup, const Reading& from, const Reading& to) {
    const int lost = static_cast<int>(-percent_change(from.what.grams, to.what.grams).count() + 1e-9);
    say_it(
        worst_reached(reference_.count_rules, "SCALE_TOO_COARSE", std::max(1, lost)), pup,
        step(from, to) + fmt::format("; that is no more than one step of the scale ({})", grams(scale_step(litter_))),
        to.at);
  }

  void gain(const Pup& pup, const Reading& last, const std::vector<Weighing>& all) {
    const double age = days_between(pup.birth.at, last.at);
    if (age < 2 || no_gain(pup, last, all, age) || age >= 28) return;
    const auto* slow = rule_of(reference_.percent_rules, age < 7 ? "SLOW_GAIN_WEEK1" : "SLOW_GAIN_WEEKS2_4");
    // Three days: daily gain is erratic, and one short interval would cry wolf.
    const auto* three_days_ago = before(all, last.at, hours{60});
    if (!slow || !three_days_ago) return;
    const double days = days_between(three_days_ago->at, last.at);
    if (days > 5) return;
    const Percent per_day{(std::pow(last.what.grams / three_days_ago->what.grams, 1 / days) - 1) * 100};
    if (reached(*slow, per_day))
      say_it(slow, pup,
             step(*three_days_ago, last) +
                 fmt::format(": {} a day, the book says at least {}", say(per_day), say(slow->limit)),
             last.at);
  }

  /// By the age at the weighing: what an old weight says of today is nothing, and WEIGH_LATE tells that.
  void doubling(const Pup& pup, const Reading& last, double age) {
    const auto first = birth_weight(pup);
    if (!first || last.what.grams >= first->what.grams * 2.0 || age >= 42) return;
    if (const auto* rule = worst_reached(reference_.day_rules, "DOUBLING_LATE", Days{age}))
      say_it(rule, pup,
             fmt::format("on day {} {} ({}), not yet twice the {} at birth", say_number(std::floor(age), 0),
                         grams(last.what.grams), when(last.at), grams(first->what.grams)),
             pup.birth.at + reference::to_span(rule->limit));
  }

  /// One of these, and at least as grave.
  bool told(std::string_view about, std::initializer_list<std::string_view> codes,
            reference::Level level = reference::Level::note) const {
    return std::any_of(out_.begin(), out_.end(), [&](const Finding& f) {
      return f.about == about && f.level <= level && std::find(codes.begin(), codes.end(), f.code) != codes.end();
    });
  }

  /// What the litter's model adds to the plain rules: doubts about the last round, and a pace likely too slow.
  void by_the_model() {
    std::set<std::string_view> doubted;
    for (const Doubt& d : course_.doubts) {
      if (!d.asked) continue;
      const bool here = std::any_of(d.labels.begin(), d.labels.end(), [&](const auto& label) {
        const Pup* pup = litter_.pup(label);
        return pup && pup->in_box() && !told(label, {"WEIGHT_JUMP"});
      });
      doubted.insert(d.open.begin(), d.open.end());
      // One question a doubt, however many weights it touches.
      if (const auto* rule = rule_of(reference_.count_rules, "READING_DOUBTED"); rule && here)
        out_.push_back(found(*rule, d.labels.size() == 1 ? d.labels.front() : "litter", asks(d), d.at));
    }
    for (const Pup& pup : litter_.pups) {
      const auto found_pace = course_.paces.find(pup.label);
      if (!pup.in_box() || found_pace == course_.paces.end()) continue;
      const auto* pace = reference::value_of(found_pace->second);
      if (!pace || now_ - pace->as_of > hours{48}) continue;
      if (told(pup.label, {"WEIGHT_JUMP"}) || doubted.contains(pup.label)) continue;
      const auto* rule = worst_reached(reference_.percent_rules, "PACE_SLOW", Percent{100 * pace->chance_slow});
      // What a plain rule has told is not told again, but a mild one must not hide a graver one.
      if (!rule || told(pup.label, {"NO_GAIN", "LOSS_TWO_DAYS", "LOSS_TEN", "SLOW_GAIN_WEEK1", "SLOW_GAIN_WEEKS2_4"},
                        rule->level))
        continue;
      say_it(rule, pup,
             fmt::format("{} a day ({} either way); the chance that it is too slow for its age is {}",
                         say(pace->per_day), say(pace->per_day_sd), say(Percent{100 * pace->chance_slow})),
             pace->as_of);
    }
  }

  std::string asks(const Doubt& d) const {
    std::string out = question(d);
    for (std::size_t i = 0; i < d.labels.size() && d.labels.size() <= 3; ++i)
      if (d.would_be[i])
        out += fmt::format("{} pup {} is {}", i == 0 ? " Then" : ";", d.labels[i], grams(*d.would_be[i]));
    return out;
  }

  void several(int here) {
    const auto* rule = rule_of(reference_.count_rules, "SEVERAL_SLOW");
    if (!rule) return;
    std::string names;
    int count = 0;
    std::optional<Instant> since;
    for (const Finding& f : out_)
      if (f.code == "NO_GAIN" || f.code == "LOSS_TWO_DAYS" || f.code == "LOSS_TEN") {
        ++count;
        names += (names.empty() ? "" : ", ") + f.about;
        if (!since || (f.since && *f.since > *since)) since = f.since;
      }
    // Half of the box: one or two slow pups in a big litter are those pups' own trouble.
    if (reached(*rule, count) && 2 * count >= here)
      out_.push_back(
          found(*rule, "litter", fmt::format("{} of {} pups lost or did not gain: {}", count, here, names), since));
  }

  const Litter& litter_;
  const Reference& reference_;
  const PaceModel model_;
  Instant now_;
  const Course& course_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> findings(const Litter& litter, const Reference& reference, Instant now, const Course& course) {
  return Asking{litter, reference, now, course}.all();
}

}  // namespace lampside::growth
