#include <qrcodegen/qrcodegen.hpp>

#include "server/serve.hpp"

namespace lampside::server {

std::string text_qr(const std::string& text, Ink ink) {
  const auto code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::LOW);
  constexpr int kMargin = 4;
  const int end = code.getSize() + kMargin;
  // getModule gives light for everything outside the code, and the margin is light.
  const auto light = [&](int x, int y) { return y < end && !code.getModule(x, y); };
  std::string out;
  for (int y = -kMargin; y < end; y += 2) {
    if (ink == Ink::colours) out += "\033[97;40m";
    for (int x = -kMargin; x < end; ++x) {
      const bool top = light(x, y), bottom = light(x, y + 1);
      out += top && bottom ? "█" : top ? "▀" : bottom ? "▄" : " ";
    }
    if (ink == Ink::colours) out += "\033[0m";
    out += '\n';
  }
  return out;
}

}  // namespace lampside::server
