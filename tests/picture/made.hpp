// Pictures drawn for the tests, and an EXIF block made by hand.
#pragma once

#include <string>

#include "draw/pdf/pdf.hpp"
#include "picture/picture.hpp"

namespace lampside::picture::test {

/// White, its upper left quarter red: so one sees which way up it lies.
inline std::string png(double width, double height) {
  draw::PngCanvas canvas{{width, height}, 1};
  canvas.rect({0, 0}, {width / 2, height / 2}, draw::Colour{220, 0, 0}, std::nullopt, 0);
  return canvas.finish();
}
inline std::string jpeg(double width, double height) { return clean(png(width, height)).value(); }

/// The JPEG with an EXIF block after its first marker: orientation, and a place (the GPS directory of JEITA CP-3451).
inline std::string with_exif(const std::string& bare, char orientation) {
  using namespace std::string_literals;
  std::string tiff = "MM\0*\0\0\0\x08"s;
  tiff += "\0\x02"s;                                                      // two tags
  tiff += "\x01\x12\0\x03\0\0\0\x01\0"s + orientation + "\0\0"s;          // orientation
  tiff += "\x88\x25\0\x04\0\0\0\x01\0\0\0\x26"s + "\0\0\0\0"s;            // where the GPS directory lies
  tiff += "\0\x02"s;                                                      // its two tags
  tiff += "\0\x01\0\x02\0\0\0\x02N\0\0\0"s;                               // latitude: north
  tiff += "\0\x02\0\x05\0\0\0\x03\0\0\0\x44"s + "\0\0\0\0"s;              // and its degrees
  tiff += "\0\0\0\x33\0\0\0\x01\0\0\0\x1e\0\0\0\x01\0\0\0\0\0\0\0\x01"s;  // 51, 30, 0
  tiff += "Mill Lane"s;
  const std::string body = "Exif\0\0"s + tiff;
  const auto length = body.size() + 2;
  return bare.substr(0, 2) + "\xff\xe1"s + static_cast<char>(length >> 8U) + static_cast<char>(length & 255U) + body +
         bare.substr(2);
}

}  // namespace lampside::picture::test
