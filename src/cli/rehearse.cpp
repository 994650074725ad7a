// rehearse: how far the forecasts can be trusted, measured on simulated litters.
#include "cli/commands.hpp"
#include "cli/progress.hpp"
#include "cli/shell.hpp"
#include "rehearse/due.hpp"
#include "rehearse/labour.hpp"
#include "rehearse/weights.hpp"

namespace lampside::cli {
namespace {

/// Prints a table that takes a while, with progress.
int show(const std::string& what, const std::function<std::string(const rehearse::Progress&)>& table) {
  std::string text;
  {
    ProgressLine progress{"simulating " + what};
    text = table([&](std::size_t done, std::size_t total) { progress.show(done, total); });
  }
  const auto printed = print(text);
  return printed ? fine : fail(printed.error());
}

}  // namespace

int run(const RehearseCommand& c) {
  return show("pregnancies",
              [&](const auto& progress) { return rehearse::rehearse_due(c.pregnancies, c.seed, progress); });
}

int run(const RehearseLabourCommand& c) {
  return show("labours", [&](const auto& progress) {
    return rehearse::rehearse_labour(c.normal, c.obstructed, c.seed, progress);
  });
}

int run(const RehearseWeightsCommand& c) {
  const rehearse::WeightsWorld world{c.litters, c.seed, c.pups, c.birth_g, c.step_g, c.rounds_a_day, !c.no_slips};
  return show("litters", [&](const auto& progress) { return rehearse::rehearse_weights(world, progress); });
}

}  // namespace lampside::cli
