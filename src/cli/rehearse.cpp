// rehearse: how far the forecasts can be trusted, measured on simulated litters.
#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/shell.hpp"
#include "rehearse/due.hpp"
#include "rehearse/labour.hpp"
#include "rehearse/weights.hpp"

namespace lampside::cli {

int run(const RehearseCommand& command) {
  std::string table;
  {
    ProgressLine progress{"simulating pregnancies"};
    table = rehearse::rehearse_due(command.pregnancies, command.seed,
                                   [&](std::size_t done, std::size_t total) { progress.show(done, total); });
  }
  const auto printed = print(table);
  return printed ? fine : fail(printed.error());
}

int run(const RehearseLabourCommand& command) {
  const auto printed = print(rehearse::rehearse_labour(command.normal, command.obstructed, command.seed));
  return printed ? fine : fail(printed.error());
}

int run(const RehearseWeightsCommand& c) {
  const auto printed =
      print(rehearse::rehearse_weights({c.litters, c.seed, c.pups, c.birth_g, c.step_g, c.rounds_a_day, !c.no_slips}));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
