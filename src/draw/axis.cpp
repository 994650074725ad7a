#include "draw/axis.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "measure/quantity.hpp"

namespace lampside::draw {
namespace {

Axis around(double low, double high, double step) {
  Axis axis{std::floor(low / step + 1e-9) * step, std::ceil(high / step - 1e-9) * step, step};
  if (axis.high <= axis.low) axis.high = axis.low + step;
  return axis;
}

double round_step(double rough) {
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double m : {1.0, 2.0, 5.0})
    if (rough <= m * power * (1 + 1e-9)) return m * power;
  return 10 * power;
}

}  // namespace

std::vector<double> Axis::ticks() const {
  std::vector<double> out;
  const auto n = static_cast<int>(std::floor((high - low) / step + 1e-6));
  for (int i = 0; i <= n; ++i) out.push_back(low + i * step);
  return out;
}

Axis round_axis(double low, double high, int wanted) {
  if (!(high > low)) high = low + 1;
  return around(low, high, round_step((high - low) / std::max(1, wanted)));
}

Axis weight_axis(double low_g, double high_g, WeightUnit unit, int wanted) {
  high_g = std::max(high_g, low_g + wanted);  // a step is a gram at least
  if (unit == WeightUnit::grams || unit == WeightUnit::kilograms) return round_axis(low_g, high_g, wanted);
  const double rough = (high_g - low_g) / kGramsPerOunce / std::max(1, wanted);
  constexpr double kSteps[] = {0.25, 0.5, 1, 2, 4, 8, 16, 32, 80};
  double step = 160;
  for (const double s : kSteps)
    if (rough <= s) {
      step = s;
      break;
    }
  return around(low_g, high_g, step * kGramsPerOunce);
}

std::vector<double> spread(const std::vector<double>& wanted, double gap, double top, double bottom) {
  std::vector<std::size_t> order(wanted.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](auto a, auto b) { return std::pair{wanted[a], a} < std::pair{wanted[b], b}; });
  if (wanted.size() > 1) gap = std::min(gap, (bottom - top) / static_cast<double>(wanted.size() - 1));

  // Neighbours that touch become one block standing at the mean of what its members want (pool adjacent violators).
  struct Block {
    double sum;  // of (wanted height - place in the block)
    std::size_t first, count;
  };
  std::vector<Block> blocks;
  const auto start = [&](const Block& b) {
    const double room = gap * static_cast<double>(b.count - 1);
    return std::clamp(b.sum / static_cast<double>(b.count), top, std::max(top, bottom - room));
  };
  for (std::size_t i = 0; i < order.size(); ++i) {
    blocks.push_back({wanted[order[i]], i, 1});
    while (blocks.size() > 1) {
      const Block last = blocks.back();
      const Block before = blocks[blocks.size() - 2];
      if (start(before) + gap * static_cast<double>(before.count) <= start(last) + 1e-9) break;
      blocks.pop_back();
      blocks.back() = {before.sum + last.sum - gap * static_cast<double>(before.count * last.count), before.first,
                       before.count + last.count};
    }
  }
  std::vector<double> out(wanted.size());
  for (const auto& b : blocks)
    for (std::size_t k = 0; k < b.count; ++k) out[order[b.first + k]] = start(b) + gap * static_cast<double>(k);
  return out;
}

}  // namespace lampside::draw
