#include <fmt/format.h>

#include <iostream>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/progress.hpp"
#include "cli/shell.hpp"
#include "exchange/jsonl.hpp"

namespace lampside::cli {

int run(const HandOutCommand& command) {
  catch_stop();
  auto entries = entries_of({"", command.data, "", std::nullopt});
  if (!entries) return fail(entries.error());
  if (!command.litter.empty()) {
    const auto litter = choose_litter(*entries, command.litter);
    if (!litter) return fail(litter.error());
    std::erase_if(*entries, [&](const record::Entry& e) { return e.litter != *litter; });
  }
  if (command.file == "-") {
    const auto written = exchange::write_jsonl(std::cout, *entries);
    return written ? fine : fail(written.error());
  }
  ProgressLine line{"writing " + command.file};
  const auto written = write_whole(command.file, command.force ? IfThere::replace : IfThere::refuse,
                                   [&](std::ostream& out) { return exchange::write_jsonl(out, *entries); });
  if (!written) return fail(written.error());
  const auto printed = print(fmt::format("handed out {} entries to {}\n", entries->size(), command.file));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
