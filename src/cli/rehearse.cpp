// rehearse: how far the forecasts can be trusted, measured on simulated litters.
#include "cli/commands.hpp"
#include "cli/shell.hpp"
#include "rehearse/due.hpp"
#include "rehearse/labour.hpp"

namespace lampside::cli {

int run(const RehearseCommand& command) {
  const auto printed = print(rehearse::rehearse_due(command.pregnancies, command.seed, command.perturbed));
  return printed ? fine : fail(printed.error());
}

int run(const RehearseLabourCommand& command) {
  const auto printed = print(rehearse::rehearse_labour(command.normal, command.obstructed, command.seed));
  return printed ? fine : fail(printed.error());
}

}  // namespace lampside::cli
