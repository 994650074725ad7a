#include "cli/commands.hpp"

#include <nlohmann/json.hpp>

#include "cli/shell.hpp"
#include "exchange/report.hpp"

namespace lampside::cli {

int run(const AssessCommand& command) {
  const auto scene = scene_of(command.source);
  if (!scene) return fail(scene.error());
  const auto printed = print(command.json ? exchange::to_json(scene->assessment, scene->litter)
                                                    .dump(2, ' ', false, record::Json::error_handler_t::replace) +
                                                "\n"
                                          : exchange::to_text(scene->assessment, scene->litter));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
