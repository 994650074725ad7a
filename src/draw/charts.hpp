// The charts, on any canvas. They draw what they are given and judge nothing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "draw/canvas.hpp"
#include "measure/quantity.hpp"
#include "measure/text.hpp"
#include "measure/time.hpp"

namespace lampside::draw {

struct WeightReading {
  Instant at;
  Grams grams;
};
struct WeightSeries {
  std::string label;                    ///< the pup's label
  std::string collar;                   ///< may be empty
  std::vector<WeightReading> readings;  ///< by time
  /// The spread of the true weight about a curve, by time; drawn for the highlighted pup.
  struct Spread {
    Instant at;
    Grams low, high;
  };
  std::vector<Spread> spread{};
};
/// What is drawn of the readings: themselves, in percent of each pup's first one, or the gain a day from one to the
/// next.
enum class Shows { weight, percent_of_first, gain_a_day };

/// Weight curves of a litter: civil days since the first birth from left to right, weight upward in the keeper's unit.
/// Pups are told apart by dash, marker and a label at the line's end; colour (from the collar word) only helps.
struct WeightChart {
  std::vector<WeightSeries> pups;  ///< in birth order: dash and marker go by it
  std::string highlight;           ///< that label's pup drawn strong among pale litter mates; empty: all alike
  Instant born;                    ///< of the first pup: its civil day is day 0
  Zone zone;
  WeightUnit unit = WeightUnit::grams;
  std::string title = "Weights";
  Shows shows = Shows::weight;
};
void draw_weights(Canvas& canvas, Area area, const WeightChart& chart, double font_size);
/// For the screen. A narrow `size` (a phone) keeps its letters readable: 340 x 280 and 720 x 400 are good sizes.
std::string weight_chart_svg(const WeightChart& chart, Size size);

struct TemperatureReading {
  Instant at;
  Celsius celsius;
};
/// The dam's temperature around whelping.
struct TemperatureChart {
  std::vector<TemperatureReading> readings;  ///< by time
  std::optional<Celsius> limit;              ///< drawn as a dashed line with its figure; from the reference tables
  std::optional<Instant> first_pup;          ///< drawn as an upright line
  Zone zone;
  TemperatureUnit unit = TemperatureUnit::celsius;
  std::string title = "Temperature";
};
void draw_temperatures(Canvas& canvas, Area area, const TemperatureChart& chart, double font_size);
std::string temperature_chart_svg(const TemperatureChart& chart, Size size);

/// How the n-th pup's line is drawn, so that a table's key can show the same.
Pen pen_of(std::string_view collar, std::size_t n, double width);
void draw_markers(Canvas& canvas, const std::vector<Point>& at, std::size_t n, double radius, Colour colour);

}  // namespace lampside::draw
