#include "exchange/calendar.hpp"

#include <fmt/format.h>

#include <cstdio>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/shell.hpp"

namespace lampside::cli {

int run(const CalendarCommand& command) {
  catch_stop();
  const auto scene = scene_of(command.source);
  if (!scene) return fail(scene.error());
  const std::string text = exchange::to_calendar(scene->assessment, scene->litter);
  if (command.out == "-") {
    if (std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0) return fine;
    return fail({"OUT_FAILED", "the calendar cannot be written to its end", "is the disk full, or the reader gone?"});
  }
  std::string out = command.out.empty() ? "care-" + scene->litter.key + ".ics" : command.out;
  if (command.out.empty())
    for (char& c : out)
      if (c == '/' || c == '\\' || static_cast<unsigned char>(c) < 0x20) c = '_';
  const auto written = write_whole(out, IfThere::replace, [&](std::ostream& file) -> Result<void> {
    file.write(text.data(), static_cast<std::streamsize>(text.size()));
    return {};
  });
  if (!written) return fail(written.error());
  const auto printed = print(fmt::format("wrote {}\n", out));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
