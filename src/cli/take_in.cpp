// take-in: a journal or a sheet of weights joins the store, whole or not at all.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include "cli/commands.hpp"
#include "cli/input.hpp"
#include "cli/progress.hpp"
#include "cli/shell.hpp"
#include "exchange/entry_id.hpp"
#include "exchange/jsonl.hpp"
#include "exchange/weights_csv.hpp"
#include "zone/zone.hpp"

namespace lampside::cli {
namespace {

namespace fs = std::filesystem;

struct Reading {
  exchange::TakenIn taken;
  std::string told;  ///< what was understood, for the dry run and the end
};

Result<Reading> read_journal(const TakeInCommand& command) {
  if (command.sheet_options())
    return problem("TAKE_IN_OPTIONS", "a journal says itself which litter, unit and time each entry has",
                   "leave out --litter, --unit, --dates, --time and --born: they are for sheets of weights");
  auto taken = read_journal_file(command.file);
  if (!taken) return tl::unexpected(taken.error());
  std::map<std::string, std::map<std::string, std::size_t>> kinds;
  for (const auto& e : taken->entries) ++kinds[e.litter][e.kind];
  std::string told = "A journal, one entry a line:\n";
  for (const auto& [litter, counts] : kinds) {
    std::string what;
    for (const auto& [kind, n] : counts) what += fmt::format("{}{} {}", what.empty() ? "" : ", ", n, kind);
    told += fmt::format("  litter {}: {}\n", litter, what);
  }
  return Reading{std::move(*taken), std::move(told)};
}

/// The litter a sheet belongs to; with --born it may be a new one, which then begins with an entry of its own.
struct Into {
  std::string key;
  Zone zone;
  std::optional<record::Entry> begins;
};
Result<Into> litter_for_sheet(const TakeInCommand& command, const std::vector<record::Entry>& kept) {
  const auto there = record::litters_in(kept);
  const bool is_there = std::find(there.begin(), there.end(), command.litter) != there.end();
  if (command.litter.empty() && there.empty())
    return problem("LITTER_NONE", "there is no litter yet to take the weights into",
                   "name a new one and its birth: --litter juniper-2026 --born 2026-03-01T02:30");
  if (!command.litter.empty() && !is_there && command.born) {
    const std::string name = zone::local_name();
    auto zone = zone::load(name);
    if (!zone) return tl::unexpected(zone.error());
    const Stamp born = zone->stamp(command.born->in(*zone));
    record::LitterFacts facts;
    facts.zone = name;
    auto entry = record::make_entry(exchange::row_id(command.litter, "", "litter", ""), command.litter, born, born,
                                    "take-in", "", facts);
    return Into{command.litter, std::move(*zone), std::move(entry)};
  }
  auto key = choose_litter(kept, command.litter);
  if (!key) return tl::unexpected(key.error());
  auto zone = zone::load(record::zone_name(kept, *key));
  if (!zone) return tl::unexpected(zone.error());
  return Into{std::move(*key), std::move(*zone), std::nullopt};
}

Result<Reading> read_sheet(const TakeInCommand& command, Input& input, const std::vector<record::Entry>& kept) {
  const auto into = litter_for_sheet(command, kept);
  if (!into) return tl::unexpected(into.error());
  std::vector<record::Entry> entries = kept;
  if (into->begins) entries.push_back(*into->begins);
  const record::Litter litter = record::fold(entries, into->key, into->zone);

  exchange::WeightsOptions options;
  options.unit = command.unit;
  options.dates = command.dates;
  if (command.time) options.time = *command.time;
  if (command.born) options.born = command.born->in(into->zone);
  ProgressLine line{"reading " + command.file};
  auto read = exchange::read_weights_csv(input.stream, litter, options, progress_of(line, input.bytes));
  if (!read) {
    Problem p = read.error();
    p.what = command.file + ", " + p.what;
    return tl::unexpected(std::move(p));
  }
  std::string told = fmt::format("A sheet of weights for litter {} ({}):\n", into->key, into->zone.name());
  for (const auto& u : read->understood) told += "  " + u + "\n";
  told += "Its first rows:\n";
  for (const auto& r : read->rows) told += "  " + r + "\n";
  told += fmt::format("In all {} weights{}; {} cells are empty.\n", read->weights,
                      read->birth_weights > 0
                          ? fmt::format(", and {} that are already recorded as birth weights", read->birth_weights)
                          : "",
                      read->empty_cells);
  if (into->begins) told += fmt::format("The litter {} is new and begins with this sheet.\n", into->key);
  if (!read->born.empty()) {
    std::string names;
    for (const auto& b : read->born) names += (names.empty() ? "" : ", ") + b;
    told += fmt::format("New pups, recorded as born {}: {}.\n", say_day_time(into->zone, *options.born), names);
  }
  if (into->begins) {
    read->taken.entries.insert(read->taken.entries.begin(), *into->begins);
    read->taken.lines.insert(read->taken.lines.begin(), 1);
  }
  return Reading{std::move(read->taken), std::move(told)};
}

Result<std::vector<record::Entry>> kept_in(const std::string& folder) {
  std::error_code error;
  if (!fs::exists(fs::path{folder} / "lampside.db", error)) return std::vector<record::Entry>{};
  auto journal = open_existing(folder);
  if (!journal) return tl::unexpected(journal.error());
  return (*journal)->read();
}

/// Entries dated after the moment stood at: taken, and told of, because they are more likely slips than plans.
std::string future_note(const exchange::TakenIn& taken, const std::vector<record::Entry>& kept,
                        const std::optional<Moment>& at) {
  if (taken.entries.empty()) return "";
  std::vector<record::Entry> facts;  // only these name the zone; the rest need not be copied
  for (const auto* list : {&kept, &taken.entries})
    for (const auto& e : *list)
      if (record::body_as<record::LitterFacts>(e) != nullptr || e.kind == "strike") facts.push_back(e);
  const auto zone = zone::load(record::zone_name(facts, taken.entries.front().litter));
  const Instant now = at ? at->in(zone.value_or(Zone{})) : machine_now();
  std::size_t n = 0, line = 0;
  for (std::size_t i = 0; i < taken.entries.size(); ++i)
    if (taken.entries[i].at.instant > now && n++ == 0) line = taken.lines[i];
  return n == 0 ? "" : fmt::format("Note: {} entries are dated in the future, the first on line {}.\n", n, line);
}

Result<std::string> take_in(const TakeInCommand& command) {
  const auto folder = data_folder(command.data);
  if (!folder) return tl::unexpected(folder.error());
  auto input = open_input(command.file);
  if (!input) return tl::unexpected(input.error());
  const auto kept = kept_in(*folder);
  if (!kept) return tl::unexpected(kept.error());
  auto reading = looks_like_journal(*input, command.file) ? read_journal(command) : read_sheet(command, *input, *kept);
  if (!reading) return tl::unexpected(reading.error());

  ProgressLine line{"checking " + command.file};
  line.show(0, 0);
  const auto misfits = command.with_misfits ? exchange::Misfits::keep : exchange::Misfits::refuse;
  const auto admission = exchange::admit(*kept, reading->taken, zone::load, misfits);
  if (!admission) {
    Problem p = admission.error();
    p.what = command.file + ", nothing was taken in:\n" + p.what;
    return tl::unexpected(std::move(p));
  }
  std::string told = reading->told + future_note(reading->taken, *kept, command.at);
  for (const auto& m : admission->misfits) told += fmt::format("Out of place: {} [{}]\n", m.why, m.code);
  if (command.dry_run) return told + "Nothing was taken in: this was a dry run.\n";
  if (stop_wanted()) return problem("STOPPED", "stopped by you", "nothing was taken in");

  line.now("writing to " + *folder);
  auto journal = store::open_sqlite(*folder);
  if (!journal) return tl::unexpected(journal.error());
  const auto receipt = (*journal)->append(reading->taken.entries);
  if (!receipt) return tl::unexpected(receipt.error());
  return told + fmt::format("Took in {} entries; {} were already there.\n", receipt->appended, receipt->replayed);
}

}  // namespace

int run(const TakeInCommand& command) {
  catch_stop();
  const auto told = take_in(command);
  if (!told) return fail(told.error(), told.error().code == "TAKE_IN_OPTIONS" ? usage : refused);
  const auto printed = print(*told);
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
