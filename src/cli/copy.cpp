// copy and restore: the store as a whole, as one file.
#include <fmt/format.h>

#include <filesystem>

#include "cli/commands.hpp"
#include "cli/shell.hpp"
#include "store/attachments.hpp"

namespace lampside::cli {
namespace fs = std::filesystem;
namespace {

/// A folder gets a file named after the day, so that a copy a day is one command.
std::string copy_name(const std::string& to) {
  std::error_code error;
  if (!fs::is_directory(to, error)) return to;
  const Instant now = machine_now();
  const Minutes time = Zone{}.time_of_day(now);
  return (fs::path{to} /
          fmt::format("lampside-{}-{:02}{:02}Z.db", to_iso(Zone{}.day_of(now)), time.count() / 60, time.count() % 60))
      .string();
}

}  // namespace

int run(const CopyCommand& command) {
  const auto folder = data_folder(command.data);
  if (!folder) return fail(folder.error());
  auto journal = open_existing(*folder);
  if (!journal) return fail(journal.error());
  const std::string to = copy_name(command.to);
  if (auto copied = (*journal)->copy_to(to); !copied) return fail(copied.error());
  // Pictures after the journal: one that comes in between is in the copy without its entry, never the other way round.
  const auto pictures = store::Attachments::beside(*folder).copy_to(store::Attachments::of_copy(to));
  if (!pictures) return fail(pictures.error());
  const auto beside = *pictures == 0 ? "" : fmt::format(", and {} of its pictures to {}.attachments", *pictures, to);
  const auto printed =
      print(fmt::format("copied to {}{}\nto put it back: lampside restore {} --data DIR\n", to, beside, to));
  return printed ? fine : fail(printed.error());
}

int run(const RestoreCommand& command) {
  const auto folder = data_folder(command.data);
  if (!folder) return fail(folder.error());
  if (auto restored = store::restore_sqlite(command.copy, *folder); !restored) return fail(restored.error());
  const auto pictures = store::Attachments::of_copy(command.copy).copy_to(store::Attachments::beside(*folder));
  if (!pictures) return fail(pictures.error());
  auto journal = open_existing(*folder);
  if (!journal) return fail(journal.error());
  const auto count = (*journal)->count();
  if (!count) return fail(count.error());
  const auto printed = print(fmt::format("put back {} entries{} in {}\n", *count,
                                         *pictures == 0 ? "" : fmt::format(" and {} pictures", *pictures), *folder));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
