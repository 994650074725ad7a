// What a pup's folder with twelve pictures costs, and a picture as it comes from a phone.
#include <benchmark/benchmark.h>

#include <string>

#include "advice/assessment.hpp"
#include "draw/pdf/pdf.hpp"
#include "full_litter.hpp"
#include "paper/forms.hpp"
#include "picture/picture.hpp"
#include "picture/sha256.hpp"
#include "reference/tables.hpp"

namespace {

using namespace lampside;

/// A picture with something everywhere, so that JPEG cannot make it small: as large as a photograph, or larger.
std::string busy_picture(double width, double height) {
  draw::PngCanvas canvas{{width, height}, 1};
  unsigned seed = 1;
  const auto next = [&seed] { return seed = seed * 1664525U + 1013904223U; };
  for (int i = 0; i < 20000; ++i) {
    const double x = next() % 1000 / 1000.0 * width, y = next() % 1000 / 1000.0 * height;
    const draw::Colour colour{static_cast<unsigned char>(next() >> 24U), static_cast<unsigned char>(next() >> 24U),
                              static_cast<unsigned char>(next() >> 24U)};
    canvas.circle({x, y}, width / 60, colour, std::nullopt);
  }
  return canvas.finish();
}
const std::string& kept_picture() {
  static const std::string jpeg = picture::clean(busy_picture(2000, 1500)).value();
  return jpeg;
}

void folder_with_twelve_pictures(benchmark::State& state) {
  auto litter = bench::litter();
  const auto now = bench::its_end();
  const auto label = litter.pups.front().label;
  for (int i = 0; i < 12; ++i) {
    record::Told<record::Photo> photo{};
    photo.at = litter.pups.front().birth.at + std::chrono::hours(24 * 4 * i);
    photo.what = {"x.jpg", picture::sha256(std::to_string(i))};
    photo.about = label;
    litter.photos.push_back(photo);
  }
  const auto assessment = advice::assess(litter, reference::built_in(), now);
  paper::Given given;
  given.pup = label;
  given.picture = [](const std::string&) -> Result<std::string> { return kept_picture(); };
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto pdf = paper::make_form("folder", paper::Sheet::a4, litter, assessment, given);
    bytes = pdf->size();
    benchmark::DoNotOptimize(pdf);
  }
  state.counters["bytes"] = static_cast<double>(bytes);
}
BENCHMARK(folder_with_twelve_pictures)->Unit(benchmark::kMillisecond);

void a_picture_of_twelve_megapixels(benchmark::State& state) {
  static const std::string phone = picture::shrunk(busy_picture(4000, 3000), 4000).value();
  for (auto _ : state) benchmark::DoNotOptimize(picture::clean(phone));
  state.counters["bytes"] = static_cast<double>(kept_picture().size());
}
BENCHMARK(a_picture_of_twelve_megapixels)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
