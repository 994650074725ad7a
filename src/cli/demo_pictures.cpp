#include "cli/demo_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw/palette.hpp"
#include "draw/pdf/pdf.hpp"
#include "picture/picture.hpp"
#include "picture/sha256.hpp"
#include "record/litter.hpp"

namespace lampside::cli {
namespace {

using draw::Canvas;
using draw::Colour;

constexpr int kWeeks = 8;
constexpr Colour kBlanket{196, 205, 214}, kStripe{176, 188, 200}, kDark{58, 40, 26}, kNose{40, 30, 28};

void oval(Canvas& canvas, double x, double y, double wide, double high, Colour fill) {
  std::vector<draw::Point> points;
  for (int i = 0; i < 48; ++i) {
    const double turn = 2 * 3.14159265358979 * i / 48;
    points.push_back({x + wide * std::cos(turn), y + high * std::sin(turn)});
  }
  canvas.polygon(points, fill, 1);
}

/// A pup lying on a blanket, larger each week; its eyes open after the second.
std::string drawn(const std::string& collar, int week, unsigned n) {
  draw::PngCanvas canvas{{480, 360}, 1};
  const auto shade = static_cast<unsigned char>(14 * (n % 4));
  const Colour coat{static_cast<unsigned char>(226 - shade), static_cast<unsigned char>(184 - shade),
                    static_cast<unsigned char>(122 - shade)};
  const Colour ear{static_cast<unsigned char>(coat.r - 34), static_cast<unsigned char>(coat.g - 34),
                   static_cast<unsigned char>(coat.b - 30)};
  canvas.rect({0, 0}, {480, 360}, kBlanket, std::nullopt, 0);
  for (int x = 0; x < 480; x += 60) canvas.rect({double(x), 0}, {14, 360}, kStripe, std::nullopt, 0);
  const double size = 0.62 + 0.05 * week, ground = 300;
  const double x = 210 + 6.0 * ((n + unsigned(week)) % 5), y = ground - 72 * size;
  oval(canvas, x - 130 * size, y + 12 * size, 40 * size, 12 * size, ear);  // tail
  oval(canvas, x, y, 125 * size, 72 * size, coat);
  for (const double leg : {-80.0, -40.0, 60.0, 95.0})
    oval(canvas, x + leg * size, ground - 8, 26 * size, 16 * size, coat);
  const double hx = x + 128 * size, hy = y - 42 * size;
  oval(canvas, hx, hy, 62 * size, 54 * size, coat);
  oval(canvas, hx - 48 * size, hy + 34 * size, 15 * size, 34 * size,
       draw::swatch_of(collar).value_or(Colour{120, 120, 120}));
  oval(canvas, hx - 46 * size, hy + 2 * size, 20 * size, 40 * size, ear);
  oval(canvas, hx + 44 * size, hy + 22 * size, 30 * size, 22 * size, coat);
  oval(canvas, hx + 66 * size, hy + 14 * size, 10 * size, 8 * size, kNose);
  if (week > 2)
    canvas.circle({hx + 18 * size, hy - 8 * size}, 7 * size, kDark, std::nullopt);
  else
    canvas.line({hx + 8 * size, hy - 6 * size}, {hx + 28 * size, hy - 6 * size}, {kDark, 3, {}});
  canvas.text({12, 348}, fmt::format("drawn, {} collar, week {}", collar, week), {13, draw::Weight::regular, kDark},
              draw::Align::left);
  return canvas.finish();
}

}  // namespace

Result<void> add_pictures(const std::vector<record::Entry>& entries, store::Journal& journal,
                          const store::Attachments& attachments) {
  std::vector<record::Entry> photos;
  unsigned n = 0;
  for (const auto& key : record::litters_in(entries)) {
    const auto litter = record::fold(entries, key, Zone{});
    for (const auto& pup : litter.pups) {
      ++n;
      for (int week = 1; week <= kWeeks && pup.born_alive(); ++week) {
        const Instant at = pup.birth.at + std::chrono::hours{24 * 7 * week + 6};
        if ((pup.death && pup.death->at < at) || (pup.departure && pup.departure->at < at)) break;
        const auto picture = picture::clean(drawn(pup.collar(), week, n));
        if (!picture) return tl::unexpected(picture.error());
        const auto sha = picture::sha256(*picture);
        if (const auto kept = attachments.keep(sha, *picture); !kept) return tl::unexpected(kept.error());
        const Stamp stamp{at, Minutes{0}};
        photos.push_back(record::make_entry(fmt::format("0e000000-0000-4000-8000-{:06d}{:06d}", n, week), key, stamp,
                                            stamp, "demo", pup.label, record::Photo{sha + ".jpg", sha}));
      }
    }
  }
  if (const auto kept = journal.append(photos); !kept) return tl::unexpected(kept.error());
  return {};
}

}  // namespace lampside::cli
