#include "homes/order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace lampside::homes {
namespace {

using record::Choice;
using record::ChoiceMade;
using record::Entry;
using record::FamilyStatus;

class Replay {
 public:
  /// Each step is judged by what was known at its time: the rule, the families, the pups of then.
  Replay(const record::Litter& litter, Instant now) : litter_{litter} {
    for (const auto& e : litter.log) {
      if (e.at.instant > now) break;
      at_ = e.at.instant;
      step(e);
    }
    at_ = now;
  }

  Order result() && {
    settle();
    out_.families = seats_;
    return std::move(out_);
  }

 private:
  Waiting& seat(const std::string& family, Instant noted) {
    for (auto& s : seats_)
      if (s.family == family) return s;
    return seats_.emplace_back(Waiting{.family = family, .place = 0, .deposit = {}, .noted = noted, .pup = {}});
  }

  void step(const Entry& e) {
    const std::string& about = litter_.about(e);
    if (const auto* family = record::body_as<record::Family>(e)) {
      auto& s = seat(family->family, e.at.instant);
      if (!family->status) return;
      s.withdrawn = *family->status == FamilyStatus::withdrawn;
      if (s.withdrawn) let_go(s.family);
    } else if (const auto* rule = record::body_as<record::PickRule>(e)) {
      out_.rule = *rule;
    } else if (const auto* deposit = record::body_as<record::Deposit>(e)) {
      auto& s = seat(deposit->family, e.at.instant);
      if (deposit->returned.value_or(false))
        s.deposit.reset();
      else if (!s.deposit)
        s.deposit = e.at.instant;
    } else if (const auto* choice = record::body_as<Choice>(e)) {
      choose(e, *choice, about);
    } else if (record::body_as<record::Death>(e)) {
      dead_.insert(about);
      const auto held = holders_.find(about);
      if (held == holders_.end()) return;
      holders_.erase(held);  // the family keeps its place and is asked again
      forget_passes();
    } else if (const auto* handover = record::body_as<record::Handover>(e); handover && handover->family) {
      gone_.insert(about);
      holders_[about] = {*handover->family};
    } else if (handover || record::body_as<record::Departure>(e)) {
      gone_.insert(about);
    }
  }

  void choose(const Entry& e, const Choice& choice, const std::string& pup) {
    const std::string who = choice.family.value_or(std::string(kKeeper));
    if (choice.made == ChoiceMade::pass) {
      if (choice.family) {
        auto& s = seat(who, e.at.instant);
        ++s.passes, ++s.passes_now;
      } else {
        keeper_passed_ = true;
      }
    } else if (choice.made == ChoiceMade::release) {
      auto& held = holders_[pup];
      const bool freed = std::erase(held, who) > 0;
      if (held.empty()) holders_.erase(pup);  // and `held` with it
      if (freed) forget_passes();
    } else {
      const auto [next, why] = whose_turn();
      if (next != who) out_.skipped.push_back({e.id, e.at.instant, pup, who, next, choice.why.value_or("")});
      auto& held = holders_[pup];
      if (std::find(held.begin(), held.end(), who) == held.end()) held.push_back(who);
    }
  }

  void let_go(const std::string& family) {
    bool freed = false;
    for (auto held = holders_.begin(); held != holders_.end();) {
      freed = (std::erase(held->second, family) > 0 && !gone_.contains(held->first)) || freed;
      held = held->second.empty() ? holders_.erase(held) : std::next(held);
    }
    if (freed) forget_passes();
  }
  void forget_passes() {
    for (auto& s : seats_) s.passes_now = 0;
  }

  /// Who holds what, and the places, as things stand at this point of the replay.
  void settle() {
    for (auto& s : seats_) s.pup.reset(), s.gone = false;
    out_.keeper.clear();
    out_.contested.clear();
    for (const auto& [pup, held] : holders_) {
      if (held.size() > 1) {
        out_.contested.push_back({pup, held});
      } else if (held.front() == kKeeper) {
        out_.keeper.push_back(pup);
      } else {
        auto& s = seat(held.front(), {});
        s.pup = pup;
        s.gone = gone_.contains(pup);
      }
    }
    std::sort(seats_.begin(), seats_.end(), [](const Waiting& a, const Waiting& b) {
      return std::tuple{!a.deposit, a.deposit.value_or(a.noted), a.noted, std::string_view(a.family)} <
             std::tuple{!b.deposit, b.deposit.value_or(b.noted), b.noted, std::string_view(b.family)};
    });
    int place = 0;
    for (auto& s : seats_) s.place = ++place;
    out_.free_pups.clear();
    for (const auto& pup : litter_.pups)
      if (pup.born_alive() && pup.birth.at <= at_ && !dead_.contains(pup.label) && !gone_.contains(pup.label) &&
          !holders_.contains(pup.label))
        out_.free_pups.push_back(pup.label);
    out_.keeper_left =
        keeper_passed_ ? 0 : std::max(0, out_.rule.keeper_first.value_or(0) - static_cast<int>(out_.keeper.size()));
    std::tie(out_.next, out_.why) = turn_of_the_settled();
  }

  std::pair<std::optional<std::string>, std::string> whose_turn() {
    settle();
    return {out_.next, out_.why};
  }

  [[nodiscard]] std::pair<std::optional<std::string>, std::string> turn_of_the_settled() const {
    const auto nobody = [](std::string why) {
      return std::pair<std::optional<std::string>, std::string>{std::nullopt, std::move(why)};
    };
    if (out_.free_pups.empty()) return nobody("no pup is free");
    if (out_.rule.opens && litter_.zone.day_of(at_) < *out_.rule.opens)
      return nobody("by the rule choosing opens on " + say_day(*out_.rule.opens));
    if (out_.keeper_left > 0)
      return {std::string(kKeeper), fmt::format("by the rule the keeper picks first: {} of {} still to come",
                                                out_.keeper_left, *out_.rule.keeper_first)};
    if (out_.rule.order == record::PickOrder::match)
      return nobody("by the rule the keeper matches pups and families, and gives a reason for each");
    const Waiting* best = nullptr;
    for (const auto& s : seats_)
      if (s.waits() && (!best || s.passes_now < best->passes_now)) best = &s;
    if (!best) return nobody("no family is waiting for a pup");
    return {best->family, reason_for(*best)};
  }

  [[nodiscard]] std::string reason_for(const Waiting& best) const {
    std::string why = best.deposit
                          ? fmt::format("their deposit came on {}", say_day(litter_.zone.day_of(*best.deposit)))
                          : fmt::format("noted on {}; all with a deposit come before those without",
                                        say_day(litter_.zone.day_of(best.noted)));
    int placed = 0, passed = 0;
    for (const auto& s : seats_) {
      if (s.place >= best.place || s.withdrawn) continue;
      ++(s.pup ? placed : passed);
    }
    if (best.place == 1 || placed + passed == 0) why += ", the first of those who wait";
    if (placed > 0) why += fmt::format("; {} before them {} a pup", placed, placed == 1 ? "has" : "have");
    if (passed > 0)
      why += fmt::format("; {} before them passed and {} the place", passed, passed == 1 ? "keeps" : "keep");
    if (best.passes_now > 0) why += "; they passed before, and all others have had their turn";
    return why;
  }

  const record::Litter& litter_;
  Order out_;
  std::vector<Waiting> seats_;
  std::map<std::string, std::vector<std::string>> holders_;  ///< pup to those who picked it and did not give it up
  std::set<std::string> dead_, gone_;
  bool keeper_passed_ = false;
  Instant at_{};
};

}  // namespace

const Waiting* Order::family(std::string_view id) const {
  for (const auto& f : families)
    if (f.family == id) return &f;
  return nullptr;
}

std::optional<std::string> Order::owner(std::string_view pup) const {
  if (std::find(keeper.begin(), keeper.end(), pup) != keeper.end()) return std::string(kKeeper);
  for (const auto& f : families)
    if (f.pup == pup) return f.family;
  return std::nullopt;
}

std::string say(const Order& order, std::string_view family) {
  if (family == kKeeper) return "the keeper";
  const auto* f = order.family(family);
  return f ? fmt::format("family {}", f->place) : "a family not on the list";
}

Order order(const record::Litter& litter, Instant now) { return Replay{litter, now}.result(); }

Result<void> may_choose(const Order& order, const record::Litter& litter, const Choice& choice,
                        const std::string& pup) {
  const std::string who = choice.family.value_or(std::string(kKeeper));
  const auto* waiting = order.family(who);
  if (choice.family && !waiting)
    return problem("HOMES_FAMILY", "this family is not on the list of this litter", "add the family first");
  if (choice.made == ChoiceMade::pass) {
    if (waiting && !waiting->waits())
      return problem("HOMES_FAMILY", "this family does not wait for a pup", "look at the list as it stands now");
    return {};
  }
  const auto* known = litter.pup(pup);
  if (!known) return problem("HOMES_PUP", "there is no such pup in this litter", "choose one of those shown");
  const auto contested =
      std::find_if(order.contested.begin(), order.contested.end(), [&](const Contested& c) { return c.pup == pup; });
  const auto owner = order.owner(pup);
  if (choice.made == ChoiceMade::release) {
    const bool theirs = contested != order.contested.end() &&
                        std::find(contested->by.begin(), contested->by.end(), who) != contested->by.end();
    if (waiting && waiting->gone)
      return problem("HOMES_PUP", "pup " + pup + " has gone home with them",
                     "if it came back, strike out its departure in the log");
    if (owner != who && !theirs)
      return problem("HOMES_NOT_THEIRS", "pup " + pup + " is not theirs to give up",
                     "look at the list as it stands now");
    return {};
  }
  if (!known->in_box())
    return problem("HOMES_PUP", "pup " + pup + " is no longer in the box", "choose one of those shown");
  if (owner || contested != order.contested.end())
    return problem("HOMES_TAKEN", "pup " + pup + " has been picked already",
                   "let it be given up first, or choose another");
  if (waiting && waiting->withdrawn)
    return problem("HOMES_FAMILY", "this family has withdrawn", "put it back on the list first");
  if (waiting && waiting->pup)
    return problem("HOMES_HAS_ONE", "this family has pup " + *waiting->pup,
                   "one pup a family: give that one up first, or enter them twice if they take two");
  if (order.next != who && choice.why.value_or("").empty())
    return problem("HOMES_TURN",
                   order.next ? "it is the turn of " + say(order, *order.next) + " (" + order.why + ")" : order.why,
                   "let them choose or pass first, or write down why the order is left");
  return {};
}

}  // namespace lampside::homes
