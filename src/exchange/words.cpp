#include "exchange/words.hpp"

namespace lampside::exchange {

std::string_view trimmed(std::string_view s) {
  constexpr std::string_view no_break = "\xC2\xA0";
  for (;;) {
    const std::size_t before = s.size();
    while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
    while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
    if (s.starts_with(no_break)) s.remove_prefix(no_break.size());
    if (s.ends_with(no_break)) s.remove_suffix(no_break.size());
    if (s.size() == before) return s;
  }
}

std::string folded(std::string_view text) {
  std::string out{trimmed(text)};
  bool after_c3 = false;
  for (char& c : out) {
    const auto byte = static_cast<unsigned char>(c);
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    // U+00C0..U+00DE lie as C3 80..C3 9E; their small letters 0x20 further on. U+00D7 is the multiplication sign.
    if (after_c3 && byte >= 0x80 && byte <= 0x9E && byte != 0x97) c = static_cast<char>(byte + 0x20);
    after_c3 = byte == 0xC3;
  }
  return out;
}

std::string harmless(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if (byte == 0xC2 && next >= 0x80 && next < 0xA0) {  // U+0080..U+009F, among them a one-byte escape
      out += '?';
      ++i;
    } else {
      out += (byte < 0x20 && byte != '\n') || byte == 0x7F ? '?' : text[i];
    }
  }
  return out;
}

}  // namespace lampside::exchange
