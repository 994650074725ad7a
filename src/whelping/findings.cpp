// Red flags of labour, signs that need a vet, newborn scores, the dam's temperature afterwards.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "reference/rules.hpp"
#include "whelping/afterwards.hpp"
#include "whelping/labour.hpp"

namespace lampside::whelping {
namespace {

using record::Litter;
using record::Sign;
using reference::Finding;
using reference::found;
using reference::Level;
using reference::reached;
using reference::Reference;
using reference::rule_of;
using reference::worst_reached;
using std::chrono::hours;

/// Weak straining of this length that stops without a pup is told of; a shorter one is an ordinary rest.
constexpr Span kLongWeakEffort = hours{1};

class Asking {
 public:
  Asking(const Litter& litter, const Reference& reference, Instant now, const Labour& labour)
      : litter_{litter}, reference_{reference}, now_{now}, labour_{labour} {}

  std::vector<Finding> all() {
    pup_signs();
    scores();
    if (litter_.dam_death && litter_.dam_death->at <= now_) {
      orphans();
      return std::move(out_);
    }
    if (labour_.stage != Stage::done) labour_clocks();
    after_labour();
    signs();
    dam_temperature();
    for (auto& f : out_)
      for (const auto& delay : reference_.delay_figures)
        if (f.code == delay.code && f.level <= Level::call_vet)
          f.why += fmt::format(" {} ({})", delay.says, delay.source.work);
    return std::move(out_);
  }

 private:
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }

  /// When to ring earlier than the table says: the house's own limit, or a long drive. With the arithmetic.
  struct Earlier {
    Minutes limit;
    std::string told;
    reference::Citation source;
  };
  std::optional<Earlier> ring_earlier(std::string_view code) const {
    const auto rows = reference::rules_of(reference_.span_rules, code);
    const reference::SpanRule *call = nullptr, *emergency = nullptr;
    for (const auto* row : rows) {
      if (row->level == Level::call_vet) call = row;
      if (row->level == Level::emergency) emergency = row;
    }
    const auto* bound = call ? call : emergency;  // never later than this
    if (!bound) return std::nullopt;
    std::optional<Earlier> out;
    for (const auto& h : litter_.house_limits)
      if (h.at <= now_ && h.what.code == code)
        out = Earlier{std::min(Minutes{h.what.min}, bound->limit),
                      fmt::format("the limit of this house is {}, said by {}",
                                  say_span(std::min(Minutes{h.what.min}, bound->limit)), h.what.who),
                      {"A limit of this house", "set by the keeper or their vet, in the log",
                       reference::Standing::common_practice}};
    // A limit shorter than the drive cannot be met by ringing earlier: there the words say to ring at once anyway.
    if (const auto drive = drive_time(); drive && emergency && (call || emergency->limit > *drive)) {
      const Minutes floor = rows.front()->limit, by = std::max(floor, emergency->limit - *drive);
      if (by < bound->limit && (!out || by < out->limit))
        out = Earlier{by,
                      fmt::format("the limit to be there is {}, the vet is {} away: {} less {} leaves {}{}",
                                  say_span(emergency->limit), say_span(*drive), say_span(emergency->limit),
                                  say_span(*drive), say_span(std::max(Minutes{0}, emergency->limit - *drive)),
                                  by > emergency->limit - *drive
                                      ? fmt::format("; nobody in print rings before {}", say_span(floor))
                                      : std::string()),
                      {"Lampside's own check", "the published limit less the drive: arithmetic",
                       reference::Standing::common_practice}};
    }
    if (out && out->limit >= bound->limit && call) out.reset();
    return out;
  }
  std::optional<Minutes> drive_time() const {
    if (!litter_.facts.vet || !litter_.facts.vet->minutes_away) return std::nullopt;
    return Minutes{*litter_.facts.vet->minutes_away};
  }
  /// Ringing earlier than the table, where the table itself does not ring yet.
  std::optional<Finding> rung_early(std::string_view code, Instant since, Span gone, std::string_view what,
                                    const std::string& told, const reference::SpanRule* reached_rule) const {
    if (reached_rule && reached_rule->level <= Level::call_vet) return std::nullopt;
    const auto earlier = ring_earlier(code);
    if (!earlier || std::chrono::floor<Minutes>(gone) < earlier->limit) return std::nullopt;
    const auto rows = reference::rules_of(reference_.span_rules, code);
    const reference::SpanRule* words = rows.front();
    for (const auto* row : rows)
      if (row->level == Level::call_vet) words = row;
    Finding f = found(*words, "dam", told + "; " + earlier->told, since + earlier->limit);
    f.level = Level::call_vet;
    f.headline = sentence(what) + ": ring the vet";
    if (words->level != Level::call_vet) f.do_now = "Ring your vet now. " + f.do_now;
    f.source = earlier->source;
    return f;
  }
  /// Appended to a call: by when to leave so as to be there at the emergency's limit.
  std::string leave_by(const reference::SpanRule& rule, Instant since) const {
    const auto drive = drive_time();
    if (!drive || rule.level != Level::call_vet) return {};
    for (const auto* row : reference::rules_of(reference_.span_rules, rule.code))
      if (row->level == Level::emergency && since + row->limit - *drive > now_)
        return fmt::format("; to be there at {}, {} away, leave by {}", say_span(row->limit), say_span(*drive),
                           say_time(litter_.zone, since + row->limit - *drive));
    return {};
  }

  /// Levels worse than `worst` are not told.
  void clock(std::string_view code, const std::optional<Instant>& since, std::string_view what,
             Level worst = Level::emergency) {
    if (!since) return;
    const Span gone = now_ - *since;
    const reference::SpanRule* rule = nullptr;
    for (const auto& r : reference_.span_rules)
      if (r.code == code && r.level >= worst && reached(r, std::chrono::floor<Minutes>(gone))) rule = &r;
    const std::string told = fmt::format("{} since {}, {} ago", what, say_time(litter_.zone, *since), say_span(gone));
    if (worst <= Level::call_vet)
      if (auto early = rung_early(code, *since, gone, what, told, rule)) {
        out_.push_back(std::move(*early));
        return;
      }
    if (!rule) return;
    out_.push_back(found(*rule, "dam",
                         told + "; the limit for this is " + say_span(rule->limit) + leave_by(*rule, *since),
                         *since + rule->limit));
  }
  void once(std::string_view code, std::string about, std::string because, std::optional<Instant> since) {
    if (const auto* rule = rule_of(reference_.count_rules, code))
      out_.push_back(found(*rule, std::move(about), std::move(because), since));
  }

  void labour_clocks() {
    const auto& l = labour_;
    const std::size_t before = out_.size();
    straining();
    clock("WATERS_NO_PUP", l.waters_since, "waters seen and no pup");
    clock("PUP_VISIBLE", l.visible_since, "a pup shows and has not come");
    if (l.born == 0) {
      clock("GREEN_BEFORE_FIRST", l.green_since, "green discharge and no first pup");
      if (l.effort == Effort::none)
        clock("FIRST_STAGE_LONG", l.first_stage_since, "panting or shivering, no straining,");
    } else {
      if (l.more_expected)
        clock("GREEN_BETWEEN", l.green_since, "green discharge and no next pup");
      else {
        clock("GREEN_BETWEEN", l.green_since,
              "green discharge after the last pup that was counted, which is the usual flow; a count can be one too "
              "few:",
              Level::note);
        clock("GREEN_AFTER_COUNT", l.green_since, "green discharge after the last pup that was counted");
      }
      if (l.more_expected) {
        const std::string told = count_told();
        // Where nobody counted she may simply be done: ring, but do not drive off for that alone.
        if (l.effort == Effort::none)
          clock("GAP_RESTING", l.last_birth, "no next pup, resting (" + told + ")",
                l.expected ? Level::emergency : Level::call_vet);
        else
          clock("GAP_STRAINING", l.last_birth, "she strains, and no pup has come (" + told + ")");
      }
    }
    const bool perhaps_done = l.born > 0 && !l.expected && l.quiet() && !l.green_since;
    if (l.more_expected)
      clock("LABOUR_LONG", l.labour_since, "labour has gone on", perhaps_done ? Level::watch : Level::emergency);
    std::set<std::string> serious;
    bool emergency = false;
    for (std::size_t i = before; i < out_.size(); ++i) {
      if (out_[i].level <= Level::call_vet) serious.insert(out_[i].code);
      emergency = emergency || out_[i].level == Level::emergency;
    }
    const auto* two = rule_of(reference_.count_rules, "TWO_FLAGS");
    if (two && !emergency && reached(*two, static_cast<int>(serious.size()))) {
      std::string list;
      for (std::size_t i = before; i < out_.size(); ++i)
        if (out_[i].level <= Level::call_vet) list += (list.empty() ? "" : "; ") + out_[i].because;
      out_.push_back(found(*two, "dam", "together: " + list, std::nullopt));
    }
  }

  /// One straining is told once, by the worst that can be said of it: as it is now, as it was when it eased or stopped,
  /// or that it stopped. What stands first wins a draw.
  void straining() {
    const auto& l = labour_;
    std::vector<Finding> candidates;
    const auto lasting = [&](std::string_view code, Span span, Instant from, const std::string& told) {
      const auto* rule = worst_reached(reference_.span_rules, code, std::chrono::floor<Minutes>(span));
      const std::string_view what =
          code == "STRONG_STRAINING" ? "strong straining and no pup" : "weak straining and no pup";
      if (auto early = rung_early(code, from, span, what, told, rule))
        candidates.push_back(std::move(*early));
      else if (rule)
        candidates.push_back(found(*rule, "dam",
                                   told + "; the limit for this is " + say_span(rule->limit) + leave_by(*rule, from),
                                   from + rule->limit));
    };
    const auto now = [&](std::string_view code, const std::optional<Instant>& since, std::string_view what) {
      if (since)
        lasting(code, now_ - *since, *since,
                fmt::format("{} and no pup since {}, {} ago", what, say_time(litter_.zone, *since),
                            say_span(now_ - *since)));
    };
    const auto then = [&](std::string_view code, const std::optional<Bout>& bout, std::string_view what) {
      if (bout)
        lasting(code, bout->span(), bout->from,
                fmt::format("{} from {} to {}, {}, and no pup came", what, say_time(litter_.zone, bout->from),
                            say_time(litter_.zone, bout->until), say_span(bout->span())));
    };
    if (l.effort == Effort::strong) now("STRONG_STRAINING", l.strong_since, "strong straining");
    if (l.effort != Effort::none)
      now("WEAK_STRAINING", l.run_since, l.effort == Effort::weak ? "weak straining" : "straining, weak and strong,");
    // Pauses are normal; a run of real effort that ends without a pup is not.
    const auto* stopped = rule_of(reference_.count_rules, "STOPPED_STRAINING");
    const bool real = (l.strong_bout && l.strong_bout->span() >= kRealEffort) ||
                      (l.run_bout && l.run_bout->span() >= kLongWeakEffort);
    if (stopped && real && l.run_bout && l.more_expected)
      candidates.push_back(
          found(*stopped, "dam",
                fmt::format("she strained for {} without a pup and stopped at {} ({})", say_span(l.run_bout->span()),
                            say_time(litter_.zone, l.run_bout->until), count_told()),
                l.run_bout->until));
    then("STRONG_STRAINING", l.strong_bout, "strong straining");
    then("WEAK_STRAINING", l.run_bout, "straining");
    const auto worst = std::min_element(candidates.begin(), candidates.end(),
                                        [](const Finding& a, const Finding& b) { return a.level < b.level; });
    if (worst != candidates.end()) out_.push_back(std::move(*worst));
  }

  std::string count_told() const {
    if (!labour_.expected)
      return fmt::format("{} born, nobody counted; if she is calm and nursing, tap Settled", labour_.born);
    return fmt::format("{} born of {}{}", labour_.born, labour_.at_least ? "at least " : "", *labour_.expected);
  }

  void after_labour() {
    const auto& l = labour_;
    if (l.stage == Stage::done && l.expected && l.born < *l.expected && l.last_birth &&
        now_ - *l.last_birth < hours{72})
      once("COUNT_SHORT", "dam", count_told() + ", and labour seems over", l.last_birth);
    const auto* short_of = rule_of(reference_.span_rules, "PLACENTAS_SHORT");
    if (short_of && l.last_birth && l.placentas > 0 && l.placentas < l.born &&
        reached(*short_of, std::chrono::floor<Minutes>(now_ - *l.last_birth)) && now_ - *l.last_birth < hours{48})
      out_.push_back(found(*short_of, "dam", fmt::format("{} afterbirths seen for {} pups", l.placentas, l.born),
                           *l.last_birth + short_of->limit));
  }

  void signs() {
    struct Watched {
      Sign sign;
      std::string_view code, what;
      hours lasts;
    };
    static constexpr Watched kWatched[] = {
        {Sign::collapse, "SIGN_COLLAPSE", "collapse or great weakness", hours{24}},
        {Sign::twitching, "SIGN_TWITCHING", "twitching or trembling stiffness", hours{24}},
        {Sign::foul_discharge, "SIGN_FOUL_DISCHARGE", "foul-smelling discharge", hours{24}},
        {Sign::bleeding, "SIGN_BLEEDING", "bright red bleeding", hours{24}},
        {Sign::hard_hot_teat, "SIGN_HARD_HOT_TEAT", "a hard, hot teat", hours{48}}};
    for (const auto& w : kWatched) {
      const record::Noted<record::SignSeen>* last = nullptr;
      for (const auto& s : litter_.signs)
        if (s.at <= now_ && s.what.sign == w.sign && now_ - s.at < w.lasts) last = &s;
      if (last)
        once(w.code, "dam", fmt::format("{} noted {}, {} ago", w.what, when(last->at), say_span(now_ - last->at)),
             last->at);
    }
    int vomits = 0;
    std::optional<Instant> last;
    for (const auto& s : litter_.signs)
      if (s.what.sign == Sign::vomiting && s.at <= now_ && now_ - s.at < hours{12}) ++vomits, last = s.at;
    if (const auto* rule = rule_of(reference_.count_rules, "REPEATED_VOMITING"); rule && reached(*rule, vomits))
      out_.push_back(found(*rule, "dam", fmt::format("vomited {} times in the last 12 hours", vomits), last));
  }

  /// How a pup takes its milk: the nest tells of these, each with its own words.
  static bool is_of_feeding(Sign s) {
    return s == Sign::no_suck || s == Sign::sucks_well || s == Sign::belly_taut || s == Sign::belly_soft ||
           s == Sign::loose_stool;
  }

  /// What was noted of a pup itself. A later sign of the same pup takes the earlier one's place within its level.
  void pup_signs() {
    for (const auto& pup : litter_.pups) {
      if (!pup.in_box()) continue;
      const record::Noted<record::SignSeen>*down = nullptr, *ill = nullptr;
      for (const auto& s : pup.signs) {
        if (s.at > now_ || now_ - s.at >= hours{24}) continue;
        if (s.what.sign == Sign::collapse)
          down = &s;
        else if (s.what.sign != Sign::settled && !is_of_feeding(s.what.sign))
          ill = &s;
      }
      const auto* worst = down ? down : ill;
      if (!worst) continue;
      once(down ? "PUP_COLLAPSE" : "PUP_ILL", pup.label,
           fmt::format("{} noted {}, {} ago", in_words(record::name_of(worst->what.sign)), when(worst->at),
                       say_span(now_ - worst->at)),
           worst->at);
    }
  }

  void orphans() {
    const Instant died = litter_.dam_death->at;
    if (now_ - died < hours{24}) once("DAM_DIED", "dam", "her death was noted " + when(died), died);
    int here = 0;
    for (const auto& pup : litter_.pups)
      if (pup.in_box() && pup.birth.at <= now_ && now_ - pup.birth.at < hours{24 * 28}) ++here;
    if (here > 0)
      once("PUPS_ORPHANED", "litter", fmt::format("{} pups under four weeks old and no mother", here), died);
  }

  void scores() {
    const auto* severe = rule_of(reference_.count_rules, "SCORE_SEVERE");
    const auto* moderate = rule_of(reference_.count_rules, "SCORE_MODERATE");
    for (const auto& pup : litter_.pups) {
      if (!pup.in_box() || pup.scores.empty()) continue;
      const auto& last = pup.scores.back();
      if (last.at > now_ || now_ - last.at >= hours{24}) continue;
      const int total = last.what.total();
      const auto* rule = severe && reached(*severe, total)       ? severe
                         : moderate && reached(*moderate, total) ? moderate
                                                                 : nullptr;
      if (rule)
        out_.push_back(found(*rule, pup.label,
                             fmt::format("newborn score {} of 10 at {}", total, say_time(litter_.zone, last.at)),
                             last.at));
    }
  }

  /// Twice a day while the womb can still fall ill: the first two weeks. Not during labour, which has its own clocks.
  void temperature_due() {
    if (labour_.born == 0 || labour_.stage != Stage::done) return;
    if (now_ - *labour_.last_birth >= hours{24 * 14}) return;
    std::optional<Instant> last;
    for (const auto& r : litter_.dam_temperatures)
      if (r.at <= now_) last = r.at;
    const Instant since = last ? std::max(*last, *labour_.last_birth) : *labour_.last_birth;
    if (const auto* rule = rule_of(reference_.span_rules, "DAM_TEMP_OLD");
        rule && reached(*rule, std::chrono::floor<Minutes>(now_ - since)))
      out_.push_back(found(*rule, "dam",
                           last ? fmt::format("the last reading is from {}", when(*last))
                                : std::string("no temperature is recorded yet"),
                           since + rule->limit));
  }

  void dam_temperature() {
    temperature_due();
    if (litter_.dam_temperatures.empty()) return;
    const record::Noted<record::Temperature>* last = nullptr;
    for (const auto& r : litter_.dam_temperatures)
      if (r.at <= now_) last = &r;
    if (!last || now_ - last->at >= hours{24}) return;
    const Celsius t = last->what.celsius;
    const auto unit = litter_.units().temperature;
    const std::string told = fmt::format("{} on {}", say(t, unit), when(last->at));
    const bool whelped = labour_.first_birth && last->at >= *labour_.first_birth;
    const auto add = [&](std::string_view code) {
      const auto* rule = rule_of(reference_.temperature_rules, code);
      if (!rule || !reached(*rule, t)) return false;
      out_.push_back(found(*rule, "dam", told + fmt::format("; the limit is {}", say(rule->limit, unit)), last->at));
      return true;
    };
    if (add("DAM_FEVER")) return;
    // Lower than any measured on the day of whelping is told whenever it is read: after it, it can mean blood loss.
    if (add("DAM_TEMP_LOW") || !whelped) return;
    // A little warm on the first day is usual; the same reading later is not.
    if (last->at - *labour_.first_birth >= hours{24}) add("DAM_WARM");
    if (labour_.stage == Stage::done) add("DAM_TEMP_LOW_AFTER");
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  const Labour& labour_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> findings(const Litter& litter, const Reference& reference, Instant now) {
  const Labour labour = read_labour(litter, now);
  auto out = Asking{litter, reference, now, labour}.all();
  for (auto& f : afterwards(litter, reference, now, labour)) out.push_back(std::move(f));
  return out;
}

}  // namespace lampside::whelping
