#include "supplies/plan.hpp"

#include <algorithm>
#include <cmath>

#include "care/given.hpp"
#include "growth/standing.hpp"
#include "nest/milk.hpp"

namespace lampside::supplies {
namespace {

using record::Keeping;
using record::Litter;
using reference::Reference;
using reference::SupplyItem;
using reference::value_of;
using std::chrono::days;

constexpr int kOwnDaysBefore = 14;
constexpr int kOwnUntil = 56;

class Maker {
 public:
  Maker(const Litter& litter, const Reference& reference, Instant now, const reference::Assessed<due::Forecast>& due)
      : reference_{reference},
        today_{litter.zone.day_of(now)},
        out_{litter_size(litter, reference, now), {}, false, false, {}, {}, {}} {
    const auto first = litter.first_birth();
    if (first && *first <= now) {
      out_.born = true;
      out_.anchor = litter.zone.day_of(*first);
      basis_.day = static_cast<int>((today_ - *out_.anchor).count());
    } else if (const auto* f = value_of(due)) {
      out_.anchor = litter.zone.day_of(f->opens);
    }
    half_ = out_.litter.at(0.5), most_ = out_.litter.at(0.95);
    basis_.birth = growth::usual_birth_weight(litter, reference);
    if (litter.facts.dam) basis_.dam = litter.facts.dam->kg;
    if (const auto* tin = nest::milk_label(litter, now)) basis_.milk = tin->what;
    for (const auto& pup : litter.pups)
      if (pup.in_box() && !pup.hand_feedings.empty()) {
        const auto share = pup.hand_feedings.back().what.share;
        basis_.by_hand += share == record::FeedShare::full ? 1 : share == record::FeedShare::top_up ? 0.5 : 0;
      }
    if (out_.born) {
      const auto last = [&](const care::Doses& doses) {
        std::optional<CivilDay> day;
        for (const auto& d : doses)
          if (d.at <= now && care::is_wormer(d.what, litter)) day = litter.zone.day_of(d.at);
        if (day) basis_.wormed += wormings_given(static_cast<int>((*day - *out_.anchor).count()), basis_.day);
      };
      for (const auto& pup : litter.pups)
        if (pup.in_box()) last(pup.doses);
      last(litter.dam_doses);
    }
    for (const auto& run : litter.shop_runs)
      if (run.what.day >= today_) out_.shop_days.push_back(run.what.day);
    std::sort(out_.shop_days.begin(), out_.shop_days.end());
    out_.shop_days.erase(std::unique(out_.shop_days.begin(), out_.shop_days.end()), out_.shop_days.end());
    out_.begun = !litter.stock.empty();
  }

  Plan make(const std::vector<Kept>& kept) {
    const auto about = [&](const SupplyItem& row) {
      const auto at = std::find_if(kept.begin(), kept.end(), [&](const Kept& k) { return k.row == &row; });
      return at == kept.end() ? nullptr : &*at;
    };
    for (const auto& row : reference_.supplies) {
      if (row.is("vet_only"))
        out_.vets_own.emplace_back(row.item);
      else
        add(&row, about(row));
    }
    for (const auto& own : kept)
      if (!own.row && !is_vet_only(reference_, own.what.item)) add(nullptr, &own);
    return std::move(out_);
  }

 private:
  [[nodiscard]] reference::Assessed<Amount> needed(const Line& line, const record::Stock* said, int pups) const {
    if (out_.born && most_ == 0) return Amount{0};  // all have gone
    if (said && (said->need || said->need_per_pup)) {
      const double amount =
          said->need.value_or(Amount{0}).count() + pups * said->need_per_pup.value_or(Amount{0}).count();
      return rounded_up(Amount{basis_.day > until(line) ? 0 : amount}, line.unit);
    }
    if (line.row) return need(*line.row, pups, basis_, reference_);
    return rounded_up(Amount{basis_.day > until(line) ? 0.0 : 1.0}, line.unit);  // written down without an amount: one
  }
  static int until(const Line& line) { return line.row ? line.row->until_d : kOwnUntil; }

  void add(const SupplyItem* row, const Kept* kept) {
    const auto* said = kept ? &kept->what : nullptr;
    Line line;
    line.row = row;
    line.item = row ? std::string(row->item) : said->item;
    line.purpose = said && said->purpose ? *said->purpose : row ? std::string(row->purpose) : "";
    line.unit = said && said->unit && !row ? *said->unit : row ? std::string(row->unit) : "";
    line.group = row ? std::string(row->group) : "own";
    line.own_amount = said && (said->need || said->need_per_pup);
    line.spoken_of = said != nullptr;
    line.need_half = needed(line, said, half_);
    line.need = needed(line, said, most_);
    line.where = said && said->where ? *said->where : line.is("make") ? Keeping::to_make : Keeping::to_buy;
    if (said && said->have && !said->where && said->have->count() > 0) line.where = Keeping::house;
    if (kept) line.seen = kept->seen;
    if (out_.anchor) {
      const int by = said && said->days_before ? -*said->days_before : row ? row->by_d : -kOwnDaysBefore;
      line.by = *out_.anchor + days{by};
      line.until = *out_.anchor + days{until(line)};
    }
    line.car = said && said->car ? *said->car : line.is("car");
    line.wanted = !(said && said->wanted) || *said->wanted;
    if (said) in_the_house(line, *said);
    if (kept) line.ask_opened = kept->begun && line.keeps_open && !line.opened && line.present();
    const double need_most = value_of(line.need) ? value_of(line.need)->count() : 0;
    // Sums of grams and shares end in a rounding of their last digit: nobody goes shopping for that.
    const double lacking = need_most - line.have.count();
    line.lacking = Amount{lacking > 1e-9 * std::max(1.0, need_most) ? lacking : 0.0};
    line.state = !line.wanted || (value_of(line.need) && need_most == 0) ? State::not_needed
                 : !line.present()                                       ? State::missing
                 : line.lacking.count() > 0                              ? State::short_of
                                                                         : State::enough;
    if (line.state == State::not_needed) line.lacking = Amount{0};
    if (said) what_to_buy(line, *said);
    out_.lines.push_back(std::move(line));
  }

  void in_the_house(Line& line, const record::Stock& said) const {
    const bool kept_here = line.where == Keeping::kit || line.where == Keeping::house;
    line.have = said.have.value_or(Amount{kept_here ? 1.0 : 0.0});
    line.expires = use_by(said);
    line.keeps_open = said.keeps_open_d;
    line.opened = said.opened;
    if (line.expires && line.have.count() > 0) {
      // What goes out of date before she may whelp is of no use to this litter, though it is good today.
      const auto useless = out_.anchor && !out_.born ? std::max(today_, *out_.anchor) : today_;
      line.past_date = *line.expires <= useless;
      line.runs_out = !line.past_date && line.until && *line.expires <= *line.until;
      line.have = usable(said, line.have, useless);
      line.expired = line.have.count() == 0;
    }
    line.tried = said.tested;
    if (line.row && line.row->tried_within_d > 0 && line.present() && !out_.born) {
      const auto last = out_.anchor.value_or(today_) - days{static_cast<int>(line.row->tried_within_d)};
      line.to_try = !said.tested || *said.tested < std::min(last, today_);
    }
  }

  static void what_to_buy(Line& line, const record::Stock& said) {
    line.pack = said.pack;
    if (!(line.lacking.count() > 0)) return;
    const double pack = said.pack ? said.pack->count() : 1;
    const double packs = std::ceil(line.lacking.count() / pack - 1e-9);
    if (said.pack) line.packs = static_cast<int>(std::min(packs, 1e6));
    if (said.cost && (said.pack || line.unit.empty())) line.cost = cash_of(*said.cost, packs);
  }

  const Reference& reference_;
  CivilDay today_;
  Basis basis_{Grams{0}, {}};
  int half_ = 0, most_ = 0;
  Plan out_;
};

}  // namespace

std::string_view name_of(State state) {
  switch (state) {
    case State::missing:
      return "missing";
    case State::short_of:
      return "short";
    case State::enough:
      return "enough";
    case State::not_needed:
      return "not_needed";
  }
  return "";
}

Plan plan(const Litter& litter, const Reference& reference, Instant now,
          const reference::Assessed<due::Forecast>& due) {
  return Maker{litter, reference, now, due}.make(inventory(litter, reference));
}

std::vector<Trip> shopping(const Plan& plan, CivilDay today) {
  std::vector<Trip> out;
  out.reserve(plan.shop_days.size() + 2);
  for (const auto day : plan.shop_days) out.push_back({day, false, {}});
  Trip soon{{}, false, {}}, later{{}, true, {}};
  for (const auto& line : plan.lines) {
    if (!(line.lacking.count() > 0) || line.where == Keeping::to_make) continue;
    Trip* trip = nullptr;
    for (auto& t : out)
      if (!trip || (line.by && *t.day <= *line.by)) trip = &t;
    const bool can_wait = line.by && *line.by > today + days{14};
    // The last trip on the calendar may lie weeks before a thing is wanted: it can be left for a trip still to be
    // named.
    if (trip && trip == &out.back() && can_wait && *line.by > *trip->day + days{14}) trip = &later;
    if (!trip) trip = can_wait ? &later : &soon;
    trip->lines.push_back(&line);
  }
  out.push_back(std::move(soon));
  out.push_back(std::move(later));
  std::erase_if(out, [](const Trip& t) { return t.lines.empty(); });
  for (auto& trip : out)
    std::stable_sort(trip.lines.begin(), trip.lines.end(),
                     [](const Line* a, const Line* b) { return a->is("essential") > b->is("essential"); });
  return out;
}

std::vector<const Line*> to_make(const Plan& plan) {
  std::vector<const Line*> out;
  for (const auto& line : plan.lines)
    if (line.lacking.count() > 0 && line.where == Keeping::to_make) out.push_back(&line);
  return out;
}

std::vector<const Line*> kit(const Plan& plan) {
  std::vector<const Line*> out;
  for (const auto& line : plan.lines)
    if (line.state != State::not_needed && (line.is("kit") || (!line.row && line.where == Keeping::kit)))
      out.push_back(&line);
  return out;
}

}  // namespace lampside::supplies
