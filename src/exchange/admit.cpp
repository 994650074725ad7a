#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "exchange/lines.hpp"
#include "exchange/named.hpp"
#include "exchange/taken_in.hpp"

namespace lampside::exchange {
namespace {

constexpr std::size_t kShown = 10;

/// One id, one content: in the journal and in the file.
Result<void> check_ids(std::span<const record::Entry> kept, const TakenIn& taken) {
  std::map<std::string_view, const record::Entry*> in_journal;
  for (const auto& e : kept) in_journal.emplace(e.id, &e);
  std::map<std::string_view, std::size_t> in_file;
  for (std::size_t i = 0; i < taken.entries.size(); ++i) {
    const record::Entry& e = taken.entries[i];
    const auto conflict = [&](const std::string& with) {
      return tl::unexpected(
          at_line(taken.lines[i],
                  {"ID_CONFLICT",
                   fmt::format("{}{} of {} has the id {}, already used by {}", e.kind,
                               e.about.empty() ? "" : " of " + e.about, to_iso(e.at), e.id, with),
                   "an entry is never changed: correct the kept one in the log, or give this one an id of its own"}));
    };
    if (const auto old = in_journal.find(e.id);
        old != in_journal.end() && !(*old->second == e) && !same_but_for_a_name(*old->second, e))
      return conflict("an entry of the journal that says something else");
    if (const auto [old, fresh] = in_file.emplace(e.id, i); !fresh && !(taken.entries[old->second] == e))
      return conflict(fmt::format("line {} for something else", taken.lines[old->second]));
  }
  return {};
}

Result<void> check_zones(const TakenIn& taken, const ZoneOf& zone_of) {
  for (std::size_t i = 0; i < taken.entries.size(); ++i)
    if (const auto* facts = record::body_as<record::LitterFacts>(taken.entries[i]); facts != nullptr && facts->zone)
      if (auto zone = zone_of(*facts->zone); !zone) return tl::unexpected(at_line(taken.lines[i], zone.error()));
  return {};
}

using MisfitKey = std::pair<record::EntryId, std::string>;

}  // namespace

Result<Admission> admit(std::span<const record::Entry> kept, const TakenIn& taken, const ZoneOf& zone_of,
                        Misfits misfits) {
  if (auto ids = check_ids(kept, taken); !ids) return tl::unexpected(ids.error());
  if (auto zones = check_zones(taken, zone_of); !zones) return tl::unexpected(zones.error());

  std::vector<record::Entry> together(kept.begin(), kept.end());
  together.insert(together.end(), taken.entries.begin(), taken.entries.end());
  Admission admission;
  for (const std::string& litter : record::litters_in(taken.entries)) {
    auto zone = zone_of(record::zone_name(together, litter));
    if (!zone) return tl::unexpected(zone.error());
    std::set<MisfitKey> before;
    for (const auto& m : record::fold(kept, litter, *zone).misfits) before.emplace(m.id, m.code);
    for (auto& m : record::fold(together, litter, *zone).misfits)
      if (!before.contains({m.id, m.code})) admission.misfits.push_back(std::move(m));
  }
  if (admission.misfits.empty() || misfits == Misfits::keep) return admission;

  std::map<std::string_view, std::size_t> line_of;
  for (std::size_t i = 0; i < taken.entries.size(); ++i) line_of.emplace(taken.entries[i].id, taken.lines[i]);
  std::vector<std::pair<std::size_t, std::string>> told;
  for (const auto& m : admission.misfits) {
    const auto line = line_of.find(m.id);
    told.emplace_back(line == line_of.end() ? 0 : line->second, fmt::format("{} [{}]", m.why, m.code));
  }
  std::sort(told.begin(), told.end());
  std::string what;
  for (std::size_t i = 0; i < told.size() && i < kShown; ++i) {
    what += i == 0 ? "" : "\n";
    what += told[i].first == 0 ? "an entry already kept: " : fmt::format("line {}: ", told[i].first);
    what += told[i].second;
  }
  if (told.size() > kShown) what += fmt::format("\n... and {} more", told.size() - kShown);
  return problem("MISFITS", what,
                 "put the file right (births come before weights); to take it in as it is and sort it out in the log, "
                 "add --with-misfits");
}

}  // namespace lampside::exchange
