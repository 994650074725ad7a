// Pictures from a phone: taken in clean, handed out in the size that is asked for.
#pragma once

#include <string>
#include <string_view>

#include "draw/canvas.hpp"
#include "measure/result.hpp"

namespace lampside::picture {

/// The longer side of what is kept, in pixels: sharp on any screen and on half a page of paper.
constexpr int kKept = 2000;
/// The longer side of what stands in lists and in a folder.
constexpr int kSmall = 720;
/// A picture of more is refused before any of it is decoded.
constexpr double kMostMegapixels = 50;

/// What a picture's head says, without decoding it.
struct Seen {
  enum class Kind { jpeg, png } kind;
  int width, height;
};
/// Errors: PICTURE_KIND (says what it looks like), PICTURE_BROKEN, PICTURE_LARGE.
Result<Seen> look(std::string_view bytes);

/// The picture as it is kept: JPEG, turned upright, at most `kKept` pixels, and without anything that came along with
/// it: no place, no time, no camera, no small preview, no words. The same bytes in give the same bytes out.
/// Errors: those of look().
Result<std::string> clean(std::string_view bytes);

/// A kept picture, smaller. Errors: those of look().
Result<std::string> shrunk(std::string_view jpeg, int longest);

/// A kept picture for paper, at most that long. Errors: those of look().
Result<draw::Picture> for_paper(std::string_view jpeg, int longest);

}  // namespace lampside::picture
