#include "care/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_map>

#include "care/law.hpp"

namespace lampside::care {
namespace {

using record::Litter;
using record::Pup;
using reference::CareTask;
using reference::Reference;
using CivilDays = std::chrono::days;

CivilDays whole(Days d) { return CivilDays{std::lround(d.count())}; }

/// A task nobody did is asked for this long after its last day, then let go (not where the row is hard).
constexpr CivilDays kAskedFor{14};

std::vector<int> days_of(std::string_view text) {
  std::vector<int> out;
  const char* at = text.data();
  const char* const end = text.data() + text.size();
  while (at != end) {
    int n = 0;
    const auto read = std::from_chars(at, end, n);
    if (read.ec != std::errc{}) break;
    out.push_back(n);
    at = read.ptr;
    while (at != end && *at == ' ') ++at;
  }
  return out;
}

std::string task_id(std::string_view id, int round) {
  return round == 1 ? std::string(id) : fmt::format("{}.{}", id, round);
}

struct Anchor {
  CivilDay day;
  bool expected = false;  ///< a forecast
};

class Planner {
 public:
  Planner(const Litter& litter, const Reference& reference, Instant now, std::optional<Instant> due)
      : litter_{litter}, reference_{reference} {
    plan_.today = litter.zone.day_of(now);
    plan_.place = litter.facts.place.value_or("");
    if (const auto born = litter.first_birth())
      day0_ = Anchor{litter.zone.day_of(*born), false};
    else if (due)
      day0_ = Anchor{litter.zone.day_of(*due), true};
    if (day0_) plan_.day0 = day0_->day;
    box_empty_ = !litter.pups.empty() &&
                 std::none_of(litter.pups.begin(), litter.pups.end(), [](const Pup& p) { return p.in_box(); });
    for (const auto& d : litter.done)
      done_.try_emplace(Key{d.what.task, d.about}, Tick{litter.zone.day_of(d.at), d.id});
    for (const auto& c : litter.counts)
      if (c.what.method == record::CountMethod::xray)
        done_.try_emplace(Key{"xray_count", "dam"}, Tick{litter.zone.day_of(c.at), c.id});
    for (const auto& c : litter.chips) done_.try_emplace(Key{"chip", c.about}, Tick{litter.zone.day_of(c.at), c.id});
    for (const auto& l : litter.put_off) later_[Key{l.what.task, l.about}] = &l.what;
    for (const auto& e : litter.care_edits) {
      auto& edit = edits_[Key{e.what.task, e.about}];
      if (e.what.shift_d) edit.shift_d = e.what.shift_d;
      if (e.what.drop) edit.drop = e.what.drop;
      edit.why = e.what.why;
    }
  }

  Plan all() {
    choose();
    for (const auto& row : reference_.care_tasks)
      if (row.set.empty() || follows(row.set)) put_row(row);
    for (const auto& own : litter_.care_own) put_own(own);
    std::stable_sort(plan_.items.begin(), plan_.items.end(),
                     [](const Item& a, const Item& b) { return a.best < b.best; });
    return std::move(plan_);
  }

 private:
  struct Tick {
    CivilDay day;
    record::EntryId by;
  };
  /// A task, and of whom. Both names live as long as the litter and the reference do.
  using Key = std::pair<std::string_view, std::string_view>;
  struct Hash {
    std::size_t operator()(const Key& key) const {
      const std::hash<std::string_view> of{};
      return of(key.first) * 31 + of(key.second);
    }
  };
  template <class T>
  using ByTask = std::unordered_map<Key, T, Hash>;

  /// Under the animal's own name, or said of the whole litter.
  template <class Map>
  static auto* of(Map& map, std::string_view task, std::string_view about) {
    auto at = map.find(Key{task, about});
    if (at == map.end() && !about.empty() && about != "dam" && about != "box") at = map.find(Key{task, ""});
    return at == map.end() ? nullptr : &at->second;
  }
  const Tick* ticked(std::string_view task, std::string_view about) const {
    const Tick* tick = of(done_, task, about);
    if (!tick && (about == "dam" || about == "box")) {
      // Older forms tick without naming the animal.
      const auto plain = done_.find(Key{task, ""});
      if (plain != done_.end()) tick = &plain->second;
    }
    return tick;
  }

  // ---- which sets ---------------------------------------------------------------------------------------------------

  void choose() {
    for (const auto& set : reference_.care_sets) {
      auto at = std::find_if(plan_.choices.begin(), plan_.choices.end(),
                             [&](const Choice& c) { return c.topic == set.topic; });
      if (at == plan_.choices.end()) at = plan_.choices.insert(at, Choice{set.topic, nullptr, {}, {}});
      const bool held = !set.law.empty() && !law_allows(reference_, plan_.place, set.law);
      (held ? at->withheld : at->offered).push_back(&set);
      if (set.chosen) at->followed = &set;
    }
    for (auto& choice : plan_.choices)
      for (const auto& said : litter_.care_choices)
        for (const auto* set : choice.offered)
          if (said.what.topic == choice.topic && said.what.set == set->id &&
              (set->law.empty() || (said.what.vet && !said.what.vet->empty())))
            choice.followed = set;
  }
  bool follows(std::string_view set) const {
    return std::any_of(plan_.choices.begin(), plan_.choices.end(),
                       [&](const Choice& c) { return c.followed && c.followed->id == set; });
  }

  // ---- on which days ------------------------------------------------------------------------------------------------

  const CareTask* row_of(std::string_view id) const {
    for (const auto& row : reference_.care_tasks)
      if (row.id == id && (row.set.empty() || follows(row.set))) return &row;
    return nullptr;
  }

  std::optional<Anchor> anchor(std::string_view name, const Pup* pup, std::string_view about) const {
    if (name == "due" || name == "whelping") return day0_;
    if (name == "birth") {
      if (pup) return Anchor{litter_.zone.day_of(pup->birth.at), false};
      return day0_;
    }
    if (name == "mating") {
      if (!litter_.matings.empty()) return Anchor{litter_.zone.day_of(litter_.matings.front().at), false};
      if (!day0_) return std::nullopt;
      return Anchor{day0_->day - CivilDays{63}, day0_->expected};
    }
    if (name == "handover" && pup && pup->departure) return Anchor{litter_.zone.day_of(pup->departure->at), false};
    const auto* row = row_of(name);
    if (!row || row->anchor == name) return std::nullopt;
    if (const auto* tick = ticked(row->id, row->who == "pups" ? about : "")) return Anchor{tick->day, false};
    auto base = anchor(row->anchor, pup, about);
    if (!base) return std::nullopt;
    base->day += CivilDays{days_of(row->on_d).front()};
    base->day = std::max(base->day, earliest(*row, base->day - CivilDays{days_of(row->on_d).front()}));
    if (const auto* edit = of(edits_, row->id, about); edit && edit->shift_d) base->day += CivilDays{*edit->shift_d};
    return base;
  }

  CivilDay earliest(const CareTask& row, CivilDay from) const {
    CivilDay out = from + whole(row.not_before_d);
    if (row.law_use == "opens")
      if (const auto limit = law_limit(reference_, plan_.place, row.law, Stricter::later))
        out = std::max(out, from + whole(*limit));
    return out;
  }

  void put_row(const CareTask& row) {
    if (row.law_use == "exists" && laws_of(reference_, plan_.place, row.law).empty()) return;
    if (row.anchor == "procedure") return put_wounds(row);
    if (row.who == "dam") return put_for(row, nullptr, "dam");
    if (row.who == "box") return put_for(row, nullptr, "box");
    if (row.who == "keeper") return put_for(row, nullptr, "");
    if (litter_.pups.empty()) return put_for(row, nullptr, "");
    for (const auto& pup : litter_.pups)
      if (pup.born_alive() && !pup.death) put_for(row, &pup, pup.label);
  }

  void put_for(const CareTask& row, const Pup* pup, const std::string& about) {
    const auto base = anchor(row.anchor, pup, about);
    if (!base) return;
    std::optional<CivilDay> end;
    if (!row.until.empty())
      if (const auto last = anchor(row.until, pup, about)) end = last->day + whole(row.until_d);
    const std::size_t first = plan_.items.size();
    const Tick* before = nullptr;
    int round = 0;
    const auto days = days_of(row.on_d);
    const auto doses = wormings(row, pup);
    for (const int on : days) {
      ++round;
      Item item;
      item.row = &row;
      item.round = round;
      item.task = task_id(row.id, round);
      item.about = about;
      item.what = std::string(row.what);
      item.expected = base->expected;
      item.best = base->day + CivilDays{on};
      if (end && row.kind != "period" && item.best > *end) break;
      set_days(item, *base, end, before);
      const Tick* tick = ticked(item.task, about);
      if (!tick) {
        const bool last = static_cast<std::size_t>(round) == days.size();
        const CivilDay next =
            last ? CivilDay::max() : base->day + CivilDays{days[static_cast<std::size_t>(round)]} - whole(row.early_d);
        for (const Tick& dose : doses)
          if (!tick && dose.day >= item.opens && dose.day < next) tick = &dose;
        if (!tick) after_doses(item, doses);
      }
      settle(item, pup, tick);
      if (tick) judge(item, *base, before);
      before = tick;
      plan_.items.push_back(std::move(item));
    }
    pass_over(first);
  }

  /// Doses of what its label calls a wormer tick the rounds of worming by themselves: who was given one is not asked
  /// for again. A product without a label on record ticks nothing.
  std::vector<Tick> wormings(const CareTask& row, const Pup* pup) const {
    std::vector<Tick> out;
    const bool dam = row.id == "worm_dam";
    if (!dam && !(row.id == "worm" && pup)) return out;
    for (const auto& dose : dam ? litter_.dam_doses : pup->doses)
      for (const auto& product : litter_.products)
        if (product.what.name == dose.what.product &&
            product.what.use.value_or(record::ProductUse::wormer) == record::ProductUse::wormer)
          out.push_back({litter_.zone.day_of(dose.at), dose.id});
    return out;
  }

  /// A dose that is no round's own keeps the next one waiting all the same.
  static void after_doses(Item& item, const std::vector<Tick>& doses) {
    const CareTask& row = *item.row;
    for (const Tick& dose : doses)
      if (dose.day <= item.closes) item.opens = std::max(item.opens, dose.day + whole(row.gap_d));
    item.best = std::max(item.best, item.opens);
    item.closes = std::max(item.closes, item.best);
  }

  void set_days(Item& item, const Anchor& base, std::optional<CivilDay> end, const Tick* before) const {
    const CareTask& row = *item.row;
    CivilDay opens_at = earliest(row, base.day);
    if (before) opens_at = std::max(opens_at, before->day + whole(row.gap_d));
    if (const auto* edit = of(edits_, item.task, item.about); edit && edit->shift_d) {
      item.best += CivilDays{*edit->shift_d};
      item.why = edit->why;
    }
    item.opens = std::max(item.best - whole(row.early_d), opens_at);
    item.best = std::max(item.best, item.opens);
    item.closes = item.best + whole(row.late_d);
    if (row.kind == "period" && end) item.closes = *end;
    if (row.law_use == "closes")
      if (const auto limit = law_limit(reference_, plan_.place, row.law, Stricter::sooner)) {
        item.closes = base.day + whole(*limit);
        item.best = std::min(item.best, item.closes);
        item.opens = std::min(item.opens, item.best);
      }
  }

  /// In what state it is; what was done is done, whatever has changed since.
  void settle(Item& item, const Pup* pup, const Tick* tick) const {
    const auto today = plan_.today;
    if (tick) {
      item.done = tick->day;
      item.done_by = tick->by;
      item.state = State::done;
      return;
    }
    const auto* edit = of(edits_, item.task, item.about);
    const auto* put_off = of(later_, item.task, item.about);
    if (edit && edit->drop.value_or(false)) {
      item.state = State::dropped;
      item.why = edit->why;
    } else if (pup && pup->departure) {
      item.state = item.closes < litter_.zone.day_of(pup->departure->at) ? State::missed : State::family;
    } else if ((item.row && item.row->anchor == "due" && day0_ && !day0_->expected) ||
               (item.about == "dam" && litter_.dam_death) || (box_empty_ && item.about == "box")) {
      item.state = State::missed;  // she has whelped: what was to be ready before is past; or nobody is there for it
    } else if (put_off && (*put_off)->until > today) {
      item.state = State::later;
      item.until = (*put_off)->until;
      item.why = (*put_off)->why;
    } else if (today < item.opens || (item.expected && item.row && item.row->anchor != "due")) {
      item.state = State::waiting;
    } else if (today < item.closes || (today == item.closes && !item.ticked())) {
      item.state = State::open;
    } else if (today == item.closes) {
      item.state = State::last_day;
    } else {
      const bool let_go = !item.ticked() || (item.row && !item.row->hard && today > item.closes + kAskedFor);
      item.state = let_go ? State::missed : State::overdue;
    }
  }

  void judge(Item& item, const Anchor& base, const Tick* before) const {
    if (!item.row->hard) return;
    const CivilDay may = earliest(*item.row, base.day);
    if (*item.done < may)
      item.too_early = fmt::format("on day {}, and it counts from day {} on", (*item.done - base.day).count(),
                                   (may - base.day).count());
    else if (before && *item.done < before->day + whole(item.row->gap_d))
      item.too_early = fmt::format("{} days after the one before, and the gap is {} days at least",
                                   (*item.done - before->day).count(), whole(item.row->gap_d).count());
  }

  /// A round nobody did is passed over as soon as the next has opened: two at once would be a double dose.
  void pass_over(std::size_t first) {
    bool taken = false;
    for (std::size_t i = plan_.items.size(); i-- > first;) {
      Item& item = plan_.items[i];
      if (taken && (item.due() || item.state == State::waiting)) item.state = State::missed;
      taken = taken || item.due() || item.state == State::done;
    }
  }

  void put_wounds(const CareTask& row) {
    for (const auto& procedure : litter_.procedures) {
      const Pup* pup = litter_.pup(procedure.about);
      if (pup && (pup->death || pup->departure)) continue;
      const Anchor base{litter_.zone.day_of(procedure.at), false};
      const std::size_t first = plan_.items.size();
      int round = 0;
      for (const int on : days_of(row.on_d)) {
        Item item;
        item.row = &row;
        item.round = ++round;
        item.task = fmt::format("{}.{}.{}", row.id, procedure.id, round);
        item.about = procedure.about;
        item.what = fmt::format("{} ({})", row.what, procedure.what.what);
        item.best = item.opens = item.closes = base.day + CivilDays{on};
        const auto looked = std::find_if(litter_.wounds.begin(), litter_.wounds.end(), [&](const auto& w) {
          return w.about == procedure.about && litter_.zone.day_of(w.at) == item.best;
        });
        if (looked != litter_.wounds.end()) {
          const Tick tick{item.best, looked->id};
          settle(item, pup, &tick);
        } else {
          settle(item, pup, ticked(item.task, item.about));
        }
        plan_.items.push_back(std::move(item));
      }
      pass_over(first);
    }
  }

  void put_own(const record::Told<record::CareOwn>& own) {
    if (!own.what.each_pup.value_or(false) || litter_.pups.empty()) return put_own_for(own, own.about);
    for (const auto& pup : litter_.pups)
      if (pup.born_alive()) put_own_for(own, pup.label);
  }

  void put_own_for(const record::Told<record::CareOwn>& own, const std::string& about) {
    const Pup* pup = litter_.pup(about);
    if (pup && pup->death) return;
    Item item;
    item.task = "own." + own.id;
    item.what = own.what.what;
    item.about = about;
    item.opens = item.best = own.what.day;
    item.closes = std::max(own.what.last_day.value_or(own.what.day), own.what.day);
    if (const auto* edit = of(edits_, item.task, item.about); edit && edit->shift_d)
      for (auto* day : {&item.opens, &item.best, &item.closes}) *day += CivilDays{*edit->shift_d};
    settle(item, pup, ticked(item.task, item.about));
    plan_.items.push_back(std::move(item));
  }

  const Litter& litter_;
  const Reference& reference_;
  Plan plan_;
  std::optional<Anchor> day0_;
  bool box_empty_ = false;  ///< every pup has died or left
  ByTask<Tick> done_;
  ByTask<const record::Later*> later_;
  ByTask<record::CareEdit> edits_;
};

}  // namespace

std::string_view name_of(State state) {
  static constexpr std::array<std::string_view, 9> kNames{"overdue", "last_day", "open",    "waiting", "later",
                                                          "done",    "missed",   "dropped", "family"};
  return kNames[static_cast<std::size_t>(state)];
}

Plan plan(const Litter& litter, const Reference& reference, Instant now, std::optional<Instant> due) {
  return Planner{litter, reference, now, due}.all();
}

std::vector<Group> grouped(const Plan& plan, bool (*keep)(const Item&)) {
  std::vector<Group> out;
  using Key = std::tuple<std::string_view, State, std::string_view, CivilDay>;
  std::map<Key, std::size_t> last;
  for (const auto& item : plan.items) {
    if (!keep(item)) continue;
    // A wound's task bears its procedure in its id; what is to be done is the same.
    const std::string_view id =
        item.row && item.row->anchor == "procedure" ? item.row->id : std::string_view(item.task);
    const Key key{id, item.due() ? State::open : item.state, item.why, item.until.value_or(CivilDay{})};
    const auto [place, fresh] = last.try_emplace(key, out.size());
    // Pups born on either side of midnight are one litter: a day apart is still one task.
    if (fresh || item.best - out[place->second].first().best > CivilDays{1}) {
      place->second = out.size();
      out.emplace_back();
    }
    out[place->second].items.push_back(&item);
  }
  for (auto& group : out)  // the most pressing speaks for all
    std::stable_sort(group.items.begin(), group.items.end(), [](const Item* a, const Item* b) {
      return std::tie(a->state, a->closes) < std::tie(b->state, b->closes);
    });
  return out;
}

std::string say_group(const Litter& litter, const Group& group) {
  const Item& item = group.first();
  std::string out = item.what;
  if (item.round > 1 && item.row && item.row->anchor != "procedure") out += fmt::format(" (round {})", item.round);
  if (item.about == "dam") return out + ": " + litter.dam_name();
  if (item.about == "box" && !item.row) return out + ": the box";
  if (!litter.pup(item.about)) return out;
  const auto all = std::count_if(litter.pups.begin(), litter.pups.end(), [](const Pup& p) { return p.in_box(); });
  if (group.items.size() > 1 && static_cast<std::ptrdiff_t>(group.items.size()) == all)
    return out + fmt::format(": all {} pups", all);
  if (group.items.size() > 6) return out + fmt::format(": {} pups", group.items.size());
  out += group.items.size() == 1 ? ": pup " : ": pups ";
  for (std::size_t i = 0; i < group.items.size(); ++i) out += (i == 0 ? "" : ", ") + group.items[i]->about;
  return out;
}

}  // namespace lampside::care
