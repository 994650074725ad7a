#include "cli/source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/input.hpp"
#include "cli/shell.hpp"
#include "reference/tables.hpp"
#include "zone/zone.hpp"

namespace lampside::cli {
namespace fs = std::filesystem;

Result<std::unique_ptr<store::Journal>> open_existing(const std::string& folder) {
  std::error_code error;
  if (!fs::exists(fs::path{folder} / "lampside.db", error))
    return problem("DATA_NONE", fmt::format("no journal is kept in {}", folder),
                   "name its folder with --data DIR; a new one is begun with: lampside serve --data DIR");
  return store::open_sqlite(folder);
}

Result<std::vector<record::Entry>> entries_of(const Source& source) {
  if (!source.file.empty() && !source.data.empty())
    return problem("SOURCE_TWO", "a journal file and --data were both given", "give one of them");
  if (source.file.empty()) {
    const auto folder = data_folder(source.data);
    if (!folder) return tl::unexpected(folder.error());
    auto journal = open_existing(*folder);
    if (!journal) return tl::unexpected(journal.error());
    return (*journal)->read();
  }
  auto taken = read_journal_file(source.file);
  if (!taken) return tl::unexpected(taken.error());
  return std::move(taken->entries);
}

Result<std::string> choose_litter(const std::vector<record::Entry>& entries, const std::string& asked) {
  const std::vector<std::string> there = record::litters_in(entries);
  if (there.empty())
    return problem("LITTER_NONE", "the journal holds no litter yet", "begin one on the first page of: lampside serve");
  std::string names;
  for (const auto& l : there) names += (names.empty() ? "" : ", ") + l;
  if (!asked.empty()) {
    if (std::find(there.begin(), there.end(), asked) != there.end()) return asked;
    return problem("LITTER_UNKNOWN", fmt::format("there is no litter \"{}\"", asked), "choose one of: " + names);
  }
  if (there.size() == 1) return there.front();
  return problem("LITTER_WHICH", fmt::format("the journal holds {} litters", there.size()),
                 "say --litter with one of: " + names);
}

Result<Scene> stand(const std::vector<record::Entry>& entries, const std::string& litter,
                    const std::optional<Moment>& at) {
  auto zone = zone::load(record::zone_name(entries, litter));
  if (!zone) return tl::unexpected(zone.error());
  const Instant now = at ? at->in(*zone) : machine_now();
  Scene scene{at ? record::fold(record::known_at(entries, now), litter, *zone) : record::fold(entries, litter, *zone),
              {}};
  scene.assessment = advice::assess(scene.litter, reference::built_in(), now);
  return scene;
}

Result<Scene> scene_of(const Source& source) {
  const auto entries = entries_of(source);
  if (!entries) return tl::unexpected(entries.error());
  const auto litter = choose_litter(*entries, source.litter);
  if (!litter) return tl::unexpected(litter.error());
  return stand(*entries, *litter, source.at);
}

}  // namespace lampside::cli
