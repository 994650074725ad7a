// The chance of the first pup hour by hour, as a calm hill over a strip of days and nights.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/canvas.hpp"
#include "measure/time.hpp"

namespace lampside::draw {

struct DueStrip {
  Instant from;                 ///< the first hour of `density`
  std::vector<double> density;  ///< one value an hour; only its shape matters
  Instant p05, p25, p50, p75, p95;
  std::optional<Instant> now;  ///< drawn as an upright line when it lies on the strip
  Zone zone;
  std::string title = "Chance of the first pup, hour by hour";
};

/// Draws whole civil days around the window. Nights (21 to 6 o'clock) are shaded; the half most likely is darker.
/// Words beside it must say the same: it is the shape that is shown, not a figure.
void draw_due_strip(Canvas& canvas, Area area, const DueStrip& strip, double font_size);
std::string due_strip_svg(const DueStrip& strip, Size size);

}  // namespace lampside::draw
