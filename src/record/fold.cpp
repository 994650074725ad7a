// From entries to the state of a litter. Order of arrival does not matter: everything is sorted by (at, written, id)
// first.
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "record/fields.hpp"
#include "record/litter.hpp"

namespace lampside::record {
namespace {

/// Which entries hold: not struck out, not corrected by one that holds.
/// A strike may itself be struck out (that brings the entry back), so the question is asked backwards from each entry.
class Standing {
 public:
  /// Of the entries those of that litter; one present twice counts once.
  Standing(std::span<const Entry* const> entries, std::string_view litter) {
    by_id_.reserve(entries.size());
    all_.reserve(entries.size());
    for (const Entry* e : entries)
      if (e->litter == litter && by_id_.try_emplace(e->id, e).second) all_.push_back(e);
    if (!std::is_sorted(all_.begin(), all_.end(), earlier)) std::sort(all_.begin(), all_.end(), earlier);
    for (const Entry* e : all_) {
      if (const auto* s = body_as<Strike>(*e)) strikes_[s->strike].push_back(e);
      if (e->corrects) corrections_[*e->corrects].push_back(e);
    }
  }
  /// By (at, written, id).
  const std::vector<const Entry*>& all() const { return all_; }
  /// Struck out itself by a strike that holds, or a correction of something struck out. Asked without recursion: a
  /// file may hold a chain of strikes as long as it likes.
  bool struck(const Entry& e) {
    if (!e.corrects && !strikes_.contains(e.id)) return false;
    std::vector<Asked> asked;
    if (struck_.try_emplace(e.id, false).second) asked.push_back({&e, 0});  // in a ring: not struck while asking
    while (!asked.empty()) {
      auto& [entry, next] = asked.back();
      if (next > 0 && !struck_[entry->id]) {  // the answer of the one asked last
        const auto [other, is_strike] = decides(*entry, next - 1);
        struck_[entry->id] = struck_[other->id] != is_strike;
      }
      const Entry* const other = struck_[entry->id] ? nullptr : decides(*entry, next++).first;
      if (!other)
        asked.pop_back();
      else if (struck_.try_emplace(other->id, false).second)
        asked.push_back({other, 0});
    }
    return struck_[e.id];
  }
  /// The corrections of `e` that hold, in that order.
  std::vector<const Entry*> live_corrections(const Entry& e) {
    std::vector<const Entry*> out;
    if (const auto c = corrections_.find(e.id); c != corrections_.end())
      for (const Entry* by : c->second)
        if (!struck(*by)) out.push_back(by);
    return out;
  }
  bool known(const EntryId& id) const { return by_id_.contains(id); }
  /// The names a birth went by before it was corrected, and when the next was written down; newest first.
  std::vector<std::pair<std::string, Instant>> former_names(const Entry& birth) const {
    std::vector<std::pair<std::string, Instant>> out;
    std::unordered_set<std::string_view> seen{birth.id};
    const Entry* e = &birth;
    while (e->corrects && seen.insert(*e->corrects).second) {
      const auto before = by_id_.find(*e->corrects);
      if (before == by_id_.end()) break;
      if (before->second->about != e->about) out.emplace_back(before->second->about, e->written.instant);
      e = before->second;
    }
    return out;
  }

 private:
  static bool earlier(const Entry* a, const Entry* b) {
    return std::tie(a->at.instant, a->written.instant, a->id) < std::tie(b->at.instant, b->written.instant, b->id);
  }

  struct Asked {
    const Entry* entry;
    std::size_t next;
  };
  /// The i-th of those that decide whether `e` is struck, or null: first the strikes of it, each of which counts while
  /// it is not struck itself, then what it corrects.
  std::pair<const Entry*, bool> decides(const Entry& e, std::size_t i) const {
    const auto s = strikes_.find(e.id);
    const std::size_t strikes = s == strikes_.end() ? 0 : s->second.size();
    if (i < strikes) return {s->second[i], true};
    const auto origin = i == strikes && e.corrects ? by_id_.find(*e.corrects) : by_id_.end();
    return {origin == by_id_.end() ? nullptr : origin->second, false};
  }

  std::vector<const Entry*> all_;
  std::unordered_map<std::string_view, const Entry*> by_id_;
  std::unordered_map<std::string_view, std::vector<const Entry*>> strikes_, corrections_;
  std::unordered_map<std::string_view, bool> struck_;
};

bool is_of_labour(Sign s) {
  switch (s) {
    case Sign::nesting:
    case Sign::mucus:
    case Sign::waters:
    case Sign::green_discharge:
    case Sign::weak_straining:
    case Sign::strong_straining:
    case Sign::straining_stopped:
    case Sign::pup_visible:
    case Sign::hard_hot_teat:
    case Sign::lochia:
    case Sign::neglects_pups:
      return true;
    default:
      return false;
  }
}

template <class S>
void lay_over(S& base, const S& top) {
  const auto one = [&](const auto& f) {
    auto& into = base.*(f.member);
    const auto& from = top.*(f.member);
    if constexpr (!is_optional<std::remove_cvref_t<decltype(into)>>::value) {
      into = from;
      return;
    } else if (!from) {
      return;
    } else {
      using V = typename std::remove_cvref_t<decltype(into)>::value_type;
      if constexpr (requires { Shape<V>::fields; }) {
        if (!into) into = V{};
        lay_over(*into, *from);
      } else {
        into = from;
      }
    }
  };
  std::apply([&](const auto&... f) { (one(f), ...); }, Shape<S>::fields);
}

class Folder {
 public:
  Folder(Litter& litter) : litter_{litter} {}

  void births(const std::vector<const Entry*>& live, const Standing& standing) {
    for (const Entry* e : live) {
      const auto* b = body_as<Birth>(*e);
      if (!b) continue;
      if (std::any_of(litter_.pups.begin(), litter_.pups.end(), [&](const Pup& p) { return p.label == e->about; })) {
        misfit(*e, "BORN_TWICE",
               fmt::format("pup \"{}\" is already born; strike one of the two out or give it another label", e->about));
        continue;
      }
      Pup pup{e->about, noted(*e, *b), 0, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}};
      if (b->grams) pup.weights.push_back({e->at.instant, Weight{*b->grams, b->as_read, {}}, e->id, e->by, e->note});
      litter_.pups.push_back(std::move(pup));
    }
    std::sort(litter_.pups.begin(), litter_.pups.end(), [](const Pup& a, const Pup& b) {
      return std::tuple{a.birth.at, a.birth.what.order.value_or(99), std::string_view(a.birth.id)} <
             std::tuple{b.birth.at, b.birth.what.order.value_or(99), std::string_view(b.birth.id)};
    });
    for (std::size_t i = 0; i < litter_.pups.size(); ++i) {
      litter_.pups[i].order = static_cast<int>(i) + 1;
      index_[litter_.pups[i].label] = i;
    }
    for (const Entry* e : live) {
      const auto pup = index_.find(e->about);
      if (!body_as<Birth>(*e) || pup == index_.end() || litter_.pups[pup->second].birth.id != e->id) continue;
      for (auto& [name, until] : standing.former_names(*e)) litter_.former_labels.push_back({name, until, e->about});
    }
    std::stable_sort(litter_.former_labels.begin(), litter_.former_labels.end(),
                     [](const FormerLabel& a, const FormerLabel& b) { return a.until < b.until; });
  }

  void place(const Entry& e) {
    std::visit([&](const auto& body) { put(e, body); }, e.body);
  }
  void misfit(const Entry& e, std::string code, std::string why) {
    litter_.misfits.push_back({e.id, std::move(code), std::move(why)});
  }

 private:
  template <class T>
  static Noted<T> noted(const Entry& e, const T& what) {
    return {e.at.instant, what, e.id, e.by, e.note};
  }
  template <class T>
  void keep(std::vector<Noted<T>>& into, const Entry& e, const T& what) {
    into.push_back(noted(e, what));
  }
  /// Of several under one name only the latest.
  template <class T>
  void keep_latest(std::vector<Noted<T>>& into, const Entry& e, const T& what, std::string T::* name) {
    std::erase_if(into, [&](const auto& known) { return known.what.*name == what.*name; });
    keep(into, e, what);
  }
  /// Of a pup, the dam, or nobody; a pup that is not there is a misfit. Kept under the pup's present label.
  template <class T>
  void keep(std::vector<Told<T>>& into, const Entry& e, const T& what) {
    if (e.about.empty() || e.about == "dam" || e.about == "box")
      into.push_back({noted(e, what), e.about});
    else if (const Pup* p = pup_of(e))
      into.push_back({noted(e, what), p->label});
  }
  static void sucked(Pup& p, Instant at) {
    if (!p.suckled || at < *p.suckled) p.suckled = at;
  }
  /// The pup an entry speaks of, or nothing and a misfit.
  Pup* pup_of(const Entry& e) {
    const auto it = index_.find(litter_.about(e));
    if (it == index_.end()) {
      misfit(e, "NEVER_BORN",
             fmt::format("there is no pup \"{}\": record its birth first, or correct the name", e.about));
      return nullptr;
    }
    Pup& pup = litter_.pups[it->second];
    // A minute's grace: the birth is often tapped a moment after the first towel.
    if (e.at.instant + Minutes{1} < pup.birth.at) {
      misfit(e, "BEFORE_BIRTH", fmt::format("dated before pup \"{}\" was born: check the date", e.about));
      return nullptr;
    }
    return &pup;
  }

  void put(const Entry& e, const LitterFacts& f) {
    (void)e;
    lay_over(litter_.facts, f);
  }
  void put(const Entry& e, const Mating& m) { keep(litter_.matings, e, m); }
  void put(const Entry& e, const LhSurge& m) { keep(litter_.lh_surges, e, m); }
  void put(const Entry& e, const Ovulation& m) { keep(litter_.ovulations, e, m); }
  void put(const Entry& e, const Dioestrus& m) { keep(litter_.dioestrus, e, m); }
  void put(const Entry& e, const Progesterone& m) { keep(litter_.progesterone, e, m); }
  void put(const Entry& e, const FoetalMeasure& m) { keep(litter_.foetal_measures, e, m); }
  void put(const Entry& e, const PupCount& m) { keep(litter_.counts, e, m); }
  void put(const Entry& e, const EarlierLitter& m) { keep(litter_.earlier, e, m); }
  void put(const Entry& e, const Temperature& t) {
    if (e.about == "dam")
      keep(litter_.dam_temperatures, e, t);
    else if (Pup* p = pup_of(e))
      keep(p->temperatures, e, t);
  }
  void put(const Entry& e, const Weight& w) {
    if (e.about == "dam")
      keep(litter_.dam_weights, e, w);
    else if (Pup* p = pup_of(e)) {
      if (!p->born_alive())
        misfit(
            e, "BORN_DEAD",
            fmt::format("pup \"{}\" is written down as born dead, and is weighed later: if it lives, correct its birth",
                        e.about));
      if (p->death && e.at.instant > p->death->at)
        misfit(e, "AFTER_DEATH",
               fmt::format("pup \"{}\" is written down as dead, and is weighed later: correct the name or the date, or "
                           "strike the death out",
                           p->label));
      keep(p->weights, e, w);
    }
  }
  void put(const Entry& e, const SignSeen& s) {
    if (s.sign == Sign::piled_up || s.sign == Sign::spread_out)
      keep(litter_.box_signs, e, s);
    else if (e.about.empty() || e.about == "dam")
      keep(litter_.signs, e, s);
    else if (is_of_labour(s.sign))
      misfit(e, "DAM_SIGN", "a sign of labour cannot be a pup's: strike it out and note it about the dam");
    else if (Pup* p = pup_of(e))
      keep(p->signs, e, s);
  }
  void put(const Entry&, const Birth&) {}  // placed by births(), before everything else
  void put(const Entry& e, const PlacentaPassed& m) { keep(litter_.placentas, e, m); }
  void put(const Entry& e, const NewbornScore& s) {
    if (Pup* p = pup_of(e)) keep(p->scores, e, s);
  }
  void put(const Entry& e, const Feed& f) {
    if (Pup* p = pup_of(e)) {
      keep(p->feeds, e, f);
      sucked(*p, e.at.instant);
    }
  }
  void put(const Entry& e, const DamMeal& m) { keep(litter_.dam_meals, e, m); }
  void put(const Entry& e, const Air& a) { keep(litter_.air, e, a); }
  void put(const Entry& e, const Lamp& l) { keep(litter_.lamps, e, l); }
  void put(const Entry& e, const Dose& d) {
    if (e.about.empty() || e.about == "dam")
      keep(litter_.dam_doses, e, d);
    else if (Pup* p = pup_of(e))
      keep(p->doses, e, d);
  }
  void put(const Entry& e, const DoseSkipped& s) {
    if (e.about.empty() || e.about == "dam")
      keep(litter_.dam_doses_skipped, e, s);
    else if (Pup* p = pup_of(e))
      keep(p->doses_skipped, e, s);
  }
  void put(const Entry& e, const Product& p) { keep_latest(litter_.products, e, p, &Product::name); }
  void put(const Entry& e, const Done& d) { keep(litter_.done, e, d); }
  void put(const Entry& e, const CareChoice& c) { keep(litter_.care_choices, e, c); }
  void put(const Entry& e, const CareEdit& c) { keep(litter_.care_edits, e, c); }
  void put(const Entry& e, const CareOwn& c) { keep(litter_.care_own, e, c); }
  void put(const Entry& e, const Later& l) { keep(litter_.put_off, e, l); }
  void put(const Entry& e, const Microchip& m) { keep(litter_.chips, e, m); }
  void put(const Entry& e, const Procedure& p) { keep(litter_.procedures, e, p); }
  void put(const Entry& e, const Wound& w) { keep(litter_.wounds, e, w); }
  void put(const Entry& e, const Death& d) {
    if (e.about == "dam") {
      if (!litter_.dam_death) litter_.dam_death = noted(e, d);
      return;
    }
    Pup* p = pup_of(e);
    if (p && p->death)
      misfit(e, "AFTER_DEATH",
             fmt::format("pup \"{}\" is already recorded as dead: strike one of the two out", e.about));
    else if (p)
      p->death = noted(e, d);
  }
  void put(const Entry& e, const Departure& d) {
    if (e.about == "dam") {
      litter_.notes.push_back(e);
      return;
    }
    if (Pup* p = pup_of(e)) p->departure = noted(e, d);
  }
  void put(const Entry& e, const Stock& s) { keep(litter_.stock, e, s); }
  void put(const Entry& e, const ShopRun& s) { keep(litter_.shop_runs, e, s); }
  void put(const Entry& e, const Suckled&) {
    if (e.about.empty()) {
      for (Pup& p : litter_.pups)
        if (p.birth.at <= e.at.instant) sucked(p, e.at.instant);
    } else if (Pup* p = pup_of(e)) {
      sucked(*p, e.at.instant);
    }
  }
  void put(const Entry& e, const StageSaid& s) { keep(litter_.stages_said, e, s); }
  void put(const Entry& e, const HouseLimit& h) { keep(litter_.house_limits, e, h); }
  void put(const Entry& e, const Photo& p) { keep(litter_.photos, e, p); }
  void put(const Entry& e, const Milk& m) { keep_latest(litter_.milks, e, m, &Milk::name); }
  void put(const Entry& e, const Food& f) { keep_latest(litter_.foods, e, f, &Food::name); }
  void put(const Entry& e, const Sensor& s) { keep_latest(litter_.sensors, e, s, &Sensor::topic); }
  void put(const Entry& e, const HandFeeding& h) {
    if (Pup* p = pup_of(e)) keep(p->hand_feedings, e, h);
  }
  void put(const Entry& e, const TeatTurns& t) {
    TeatTurns all = litter_.turns ? litter_.turns->what : TeatTurns{};
    lay_over(all, t);
    litter_.turns = noted(e, all);
  }
  void put(const Entry& e, const Family& f) {
    for (auto& known : litter_.families)
      if (known.what.family == f.family) return lay_over(known.what, f);
    keep(litter_.families, e, f);
  }
  void put(const Entry& e, const Deposit& d) { keep(litter_.deposits, e, d); }
  void put(const Entry& e, const Choice& c) { keep(litter_.choices, e, c); }
  void put(const Entry& e, const PickRule& r) { litter_.pick_rule = noted(e, r); }
  void put(const Entry& e, const BehaviourTest& b) {
    if (Pup* p = pup_of(e)) keep(p->behaviour_tests, e, b);
  }
  void put(const Entry& e, const Handover& h) {
    Pup* p = pup_of(e);
    if (!p) return;
    p->handover = noted(e, h);
    if (!p->departure) p->departure = noted(e, Departure{});
  }
  void put(const Entry& e, const MoneyMoved& m) { keep(litter_.money, e, m); }
  void put(const Entry& e, const Contract& c) { litter_.contract = noted(e, c); }
  void put(const Entry& e, const Consent& c) { keep(litter_.consents, e, c); }
  void put(const Entry& e, const FollowUp& f) {
    if (Pup* p = pup_of(e)) keep(p->follow_ups, e, f);
  }
  void put(const Entry& e, const Erased& x) { keep(litter_.erased, e, x); }
  void put(const Entry& e, const Note&) { litter_.notes.push_back(e); }
  void put(const Entry&, const Strike&) {}
  void put(const Entry& e, const Other&) { litter_.notes.push_back(e); }

  Litter& litter_;
  std::map<std::string, std::size_t, std::less<>> index_;
};

std::vector<const Entry*> pointers_to(std::span<const Entry> entries) {
  std::vector<const Entry*> out;
  out.reserve(entries.size());
  for (const Entry& e : entries) out.push_back(&e);
  return out;
}

}  // namespace

Litter::Litter() = default;
Litter::Litter(const Litter&) = default;
Litter::Litter(Litter&&) noexcept = default;
Litter& Litter::operator=(const Litter&) = default;
Litter& Litter::operator=(Litter&&) noexcept = default;
Litter::~Litter() = default;

const Pup* Litter::pup(std::string_view label) const {
  for (const Pup& p : pups)
    if (p.label == label) return &p;
  return nullptr;
}

const std::string& Litter::about(const Entry& entry) const {
  if (former_labels.empty() || body_as<Birth>(entry)) return entry.about;
  const FormerLabel* last = nullptr;
  for (const FormerLabel& former : former_labels) {
    if (former.label != entry.about) continue;
    if (entry.written.instant < former.until) return former.now;
    last = &former;
  }
  // Written later: by a device that had not heard of it, unless another pup bears that label now.
  return last && !pup(entry.about) ? last->now : entry.about;
}

std::optional<Instant> Litter::first_birth() const {
  if (pups.empty()) return std::nullopt;
  return pups.front().birth.at;
}

std::vector<std::string> litters_in(std::span<const Entry> entries) {
  std::set<std::string> seen;
  for (const Entry& e : entries) seen.insert(e.litter);
  return {seen.begin(), seen.end()};
}

std::vector<Entry> known_at(std::span<const Entry> entries, Instant now) {
  std::vector<Entry> out;
  for (const Entry& e : entries)
    if (e.at.instant <= now) out.push_back(e);
  return out;
}

Litter fold(std::span<const Entry> entries, std::string_view litter, Zone zone) {
  return fold(pointers_to(entries), litter, std::move(zone));
}

Litter fold(std::span<const Entry* const> entries, std::string_view litter_key, Zone zone) {
  Litter litter;
  litter.key = std::string(litter_key);
  litter.zone = std::move(zone);

  Standing standing{entries, litter_key};
  Folder folder{litter};
  std::vector<const Entry*> live;
  live.reserve(standing.all().size());
  for (const Entry* e : standing.all()) {
    if (standing.struck(*e)) {
      litter.struck.push_back(*e);
      continue;
    }
    const auto corrections = standing.live_corrections(*e);
    if (corrections.size() > 1)
      folder.misfit(*e, "TWO_CORRECTIONS",
                    fmt::format("corrected in {} different ways: strike out those that are wrong", corrections.size()));
    if (!corrections.empty()) {
      litter.struck.push_back(*e);
      continue;
    }
    live.push_back(e);
  }
  for (const Entry* e : live) {
    if (e->corrects && !standing.known(*e->corrects))
      folder.misfit(*e, "CORRECTS_NOTHING", "the entry it corrects is not in this journal; it is taken as it stands");
    if (const auto* s = body_as<Strike>(*e); s && !standing.known(s->strike))
      folder.misfit(*e, "STRIKES_NOTHING", "the entry it strikes out is not in this journal");
  }
  folder.births(live, standing);
  litter.log.reserve(live.size());
  for (const Entry* e : live) {
    folder.place(*e);
    litter.log.push_back(*e);
  }
  std::sort(litter.misfits.begin(), litter.misfits.end(),
            [](const Misfit& a, const Misfit& b) { return std::tie(a.id, a.code) < std::tie(b.id, b.code); });
  return litter;
}

std::string zone_name(std::span<const Entry> entries, std::string_view litter) {
  Standing standing{pointers_to(entries), litter};
  std::string out = "UTC";
  for (const Entry* e : standing.all())
    if (const auto* facts = body_as<LitterFacts>(*e); facts && facts->zone)
      if (!standing.struck(*e) && standing.live_corrections(*e).empty()) out = *facts->zone;
  return out;
}

}  // namespace lampside::record
