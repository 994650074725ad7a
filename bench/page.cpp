// What making a page costs for a full litter, the assessment already made.
#include "page/page.hpp"

#include <benchmark/benchmark.h>

#include <string>

#include "advice/assessment.hpp"
#include "full_litter.hpp"
#include "reference/tables.hpp"

namespace {

using namespace lampside;

template <std::string (*Page)(const page::View&)>
void render(benchmark::State& state) {
  const auto now = bench::its_end();
  const auto assessment = advice::assess(bench::litter(), reference::built_in(), now);
  page::View view{bench::litter(), assessment, now, "token", "", "", {}, {}, "", {}};
  int made = 0;
  view.fresh_id = [&made] { return std::to_string(++made); };
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto text = Page(view);
    bytes = text.size();
    benchmark::DoNotOptimize(text);
  }
  state.counters["bytes"] = static_cast<double>(bytes);
}
std::string first_turn(const page::View& view) { return page::weigh_in_page(view, ""); }
std::string one_pup(const page::View& view) { return page::pup_page(view, view.litter.pups.front()); }
BENCHMARK(render<page::now_page>)->Name("now")->Unit(benchmark::kMillisecond);
BENCHMARK(render<page::whelping_page>)->Name("whelping")->Unit(benchmark::kMillisecond);
BENCHMARK(render<first_turn>)->Name("weigh_in")->Unit(benchmark::kMillisecond);
BENCHMARK(render<one_pup>)->Name("pup")->Unit(benchmark::kMillisecond);
BENCHMARK(render<page::log_page>)->Name("log")->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
