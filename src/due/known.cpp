#include "due/known.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "due/model.hpp"

namespace lampside::due {
namespace {

using record::Litter;
using reference::Reference;
using std::chrono::hours;

constexpr hours kSeason{24 * 30}, kBefore{24 * 25};

/// A dated entry and the LH surge it points to by itself.
struct Pointer {
  Instant surge;
  Instant at;
  std::string_view kind;
};

template <class T>
std::vector<record::Noted<T>> up_to(const std::vector<record::Noted<T>>& all, Instant now) {
  std::vector<record::Noted<T>> out;
  for (const auto& one : all)
    if (one.at <= now) out.push_back(one);
  return out;
}

Litter up_to(const Litter& all, Instant now) {
  Litter out{};
  out.zone = all.zone;
  out.facts = all.facts;
  out.matings = up_to(all.matings, now);
  out.lh_surges = up_to(all.lh_surges, now);
  out.ovulations = up_to(all.ovulations, now);
  out.dioestrus = up_to(all.dioestrus, now);
  out.progesterone = up_to(all.progesterone, now);
  out.foetal_measures = up_to(all.foetal_measures, now);
  out.counts = up_to(all.counts, now);
  out.earlier = up_to(all.earlier, now);
  out.dam_temperatures = up_to(all.dam_temperatures, now);
  out.signs = up_to(all.signs, now);
  return out;
}

std::vector<Pointer> pointers(const Litter& litter, const Reference& reference) {
  std::vector<Pointer> out;
  const auto add = [&](const auto& events, double days, std::string_view kind) {
    for (const auto& e : events) out.push_back({e.at - reference::to_span(Days{days}), e.at, kind});
  };
  add(litter.matings, 2, "mating");
  add(litter.lh_surges, 0, "lh_surge");
  add(litter.ovulations, 2, "ovulation");
  add(litter.dioestrus, 8, "dioestrus");
  for (const auto& m : litter.foetal_measures)
    if (const auto* row = foetometry_row(reference, litter, m.what.measure))
      out.push_back({m.at + reference::to_span(Days{read_scan(*row, m.what.mm).to_go_d - 65}), m.at, "foetal_measure"});
  return out;
}

template <class T>
void drop_before(std::vector<record::Noted<T>>& events, Instant first) {
  std::erase_if(events, [&](const auto& e) { return e.at < first; });
}

}  // namespace

Known known_by(const Litter& litter, const Reference& reference, Instant now) {
  Known out{up_to(litter, now), {}, {}};
  auto dated = pointers(out.litter, reference);
  std::sort(dated.begin(), dated.end(), [](const Pointer& a, const Pointer& b) { return a.surge < b.surge; });
  std::size_t first = 0;
  for (std::size_t i = 1; i < dated.size(); ++i)
    if (dated[i].surge - dated[i - 1].surge > kSeason) first = i;
  if (first > 0) {
    const auto day = [&](const Pointer& p) { return say_day(litter.zone.day_of(p.at)); };
    out.seasons = Conflict{
        fmt::format("entries of two seasons, or a wrong date: {} up to {} ({}) left out, those from {} ({}) followed",
                    first, day(dated[first - 1]), dated[first - 1].kind, day(dated[first]), dated[first].kind),
        std::string(dated[first - 1].kind)};
    // Of each kind, what points to the later season stays; readings and counts stay from shortly before it.
    const Instant from = dated[first].surge - hours{1};
    drop_before(out.litter.matings, from + hours{48});
    drop_before(out.litter.lh_surges, from);
    drop_before(out.litter.ovulations, from + hours{48});
    drop_before(out.litter.dioestrus, from + hours{24 * 8});
    std::erase_if(out.litter.foetal_measures, [&](const auto& m) {
      const auto* row = foetometry_row(reference, litter, m.what.measure);
      return !row || m.at + reference::to_span(Days{read_scan(*row, m.what.mm).to_go_d - 65}) < from;
    });
    drop_before(out.litter.progesterone, from - kBefore);
    drop_before(out.litter.counts, from);
    drop_before(out.litter.dam_temperatures, from);
    drop_before(out.litter.signs, from);
  }
  for (std::size_t i = first; i < dated.size(); ++i) out.whelpings.push_back(dated[i].surge + hours{24 * 65});
  for (const auto& p : out.litter.progesterone)
    if (around_ovulation(out.litter, p.at) && dates_the_surge(reference, p.what.ng_ml))
      out.whelpings.push_back(p.at + hours{24 * 64});
  return out;
}

}  // namespace lampside::due
