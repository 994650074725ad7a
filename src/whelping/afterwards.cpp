#include "whelping/afterwards.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "reference/rules.hpp"

namespace lampside::whelping {
namespace {

using record::Sign;
using reference::Finding;
using reference::found;
using reference::reached;
using reference::rule_of;
using std::chrono::hours;

class Afterwards {
 public:
  Afterwards(const record::Litter& litter, const reference::Reference& reference, Instant now, const Labour& labour)
      : litter_{litter}, reference_{reference}, now_{now}, labour_{labour} {}

  std::vector<Finding> all() {
    const bool lives = !litter_.dam_death || litter_.dam_death->at > now_;
    if (lives) first_suckle();
    if (lives && labour_.stage != Stage::done) labour_care();
    if (lives && labour_.stage == Stage::done && labour_.last_birth) the_dam();
    return std::move(out_);
  }

 private:
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }

  /// One finding for all pups: nine of the same would hide what matters. Told while the gut still takes colostrum in.
  void first_suckle() {
    const reference::SpanRule* worst = nullptr;
    std::string who;
    Instant oldest = now_;
    for (const auto& pup : litter_.pups) {
      if (!pup.in_box() || pup.birth.at > now_ || now_ - pup.birth.at >= hours{16}) continue;
      if (pup.suckled && *pup.suckled <= now_) continue;
      const auto* rule = reference::worst_reached(reference_.span_rules, "FIRST_SUCKLE",
                                                  std::chrono::floor<Minutes>(now_ - pup.birth.at));
      if (!rule) continue;
      if (!worst || rule->limit > worst->limit) worst = rule;
      who += (who.empty() ? "" : ", ") + pup.label;
      oldest = std::min(oldest, pup.birth.at);
    }
    if (worst)
      out_.push_back(found(
          *worst, "litter",
          fmt::format("no first suckle is written down for pup {}; the oldest is {} old", who, say_span(now_ - oldest)),
          oldest + worst->limit));
  }

  /// Once an hour in labour, until it is done or switched off (the task "no_prompts").
  void labour_care() {
    if (!labour_.labour_since || *labour_.labour_since > now_) return;
    Instant last = *labour_.labour_since;
    for (const auto& d : litter_.done) {
      if (d.at > now_) continue;
      if (d.what.task == "no_prompts") return;
      if (d.what.task == "labour_care") last = std::max(last, d.at);
    }
    const auto* rule = rule_of(reference_.span_rules, "LABOUR_CARE");
    if (rule && reached(*rule, std::chrono::floor<Minutes>(now_ - last)))
      out_.push_back(found(*rule, "dam", fmt::format("last done {} ago", say_span(now_ - last)), last + rule->limit));
  }

  const record::Noted<record::SignSeen>* last_sign(Sign sign, Span window) const {
    const record::Noted<record::SignSeen>* last = nullptr;
    for (const auto& s : litter_.signs)
      if (s.what.sign == sign && s.at <= now_ && now_ - s.at < window && s.at >= *labour_.last_birth) last = &s;
    return last;
  }
  void after(std::string_view code, Sign sign, std::string_view what, Span window) {
    const auto* seen = last_sign(sign, window);
    if (!seen) return;
    const Span age = seen->at - *labour_.last_birth;
    if (const auto* rule = reference::worst_reached(reference_.span_rules, code, std::chrono::floor<Minutes>(age)))
      out_.push_back(found(*rule, "dam",
                           fmt::format("{} noted {}, {} after the last pup", what, when(seen->at), say_span(age)),
                           seen->at));
  }

  void the_dam() {
    const double days = reference::days_between(*labour_.last_birth, now_);
    after("GREEN_LATE", Sign::green_discharge, "green discharge", hours{24});
    after("APPETITE_LATE", Sign::off_food, "off her food", hours{24});
    after("NEGLECT", Sign::neglects_pups, "leaving her pups", hours{24});
    // Panting or shaking while the milk comes in can be the first of low calcium; on the day of the birth it is usual.
    if (days < 35)
      for (const auto& [sign, what] : {std::pair{Sign::panting, "panting"}, {Sign::shivering, "shivering"}})
        if (last_sign(sign, hours{12})) {
          after("MILK_FEVER_SIGN", sign, what, hours{12});
          break;
        }
    for (const Sign sign : {Sign::lochia, Sign::bleeding}) {
      const auto* seen = last_sign(sign, hours{48});
      if (!seen) continue;
      const Days flow{reference::days_between(*labour_.last_birth, seen->at)};
      if (const auto* rule = reference::worst_reached(reference_.day_rules, "FLOW_LONG", flow)) {
        out_.push_back(found(*rule, "dam",
                             fmt::format("flow noted {}, day {} after whelping", when(seen->at),
                                         say_number(std::floor(flow.count()), 0)),
                             seen->at));
        break;
      }
    }
    for (const auto* rule : reference::rules_of(reference_.day_rules, "DAM_NORMAL"))
      if (reached(*rule, Days{days}))
        out_.push_back(
            found(*rule, "dam", fmt::format("day {} after whelping", say_number(std::floor(days), 0)), std::nullopt));
  }

  const record::Litter& litter_;
  const reference::Reference& reference_;
  Instant now_;
  const Labour& labour_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> afterwards(const record::Litter& litter, const reference::Reference& reference, Instant now,
                                const Labour& labour) {
  return Afterwards{litter, reference, now, labour}.all();
}

}  // namespace lampside::whelping
