// What making a page costs for a full litter, the assessment already made.
#include <benchmark/benchmark.h>

#include <string>

#include "advice/assessment.hpp"
#include "full_litter.hpp"
#include "page/page.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace {

using namespace lampside;

const record::Litter& litter() {
  static const auto one = record::fold(bench::full_litter(), "bench-2026", Zone{});
  return one;
}

template <std::string (*Page)(const page::View&)>
void render(benchmark::State& state) {
  const auto assessment = advice::assess(litter(), reference::built_in(), bench::its_end());
  int made = 0;
  const page::View view{litter(), assessment, bench::its_end(), "token", "",
                        "",       {},         std::nullopt,     "",      [&made] {
                          return std::to_string(++made); }};
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto text = Page(view);
    bytes = text.size();
    benchmark::DoNotOptimize(text);
  }
  state.counters["bytes"] = static_cast<double>(bytes);
}
std::string first_turn(const page::View& view) { return page::weigh_in_page(view, ""); }
BENCHMARK(render<page::now_page>)->Name("page_now")->Unit(benchmark::kMillisecond);
BENCHMARK(render<page::whelping_page>)->Name("page_whelping")->Unit(benchmark::kMillisecond);
BENCHMARK(render<first_turn>)->Name("page_weigh_in")->Unit(benchmark::kMillisecond);
BENCHMARK(render<page::log_page>)->Name("page_log")->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
