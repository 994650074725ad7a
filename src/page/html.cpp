#include "page/html.hpp"

#include <algorithm>
#include <array>

namespace lampside::page {
namespace {

void append_escaped(std::string& out, std::string_view text) {
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        // HTML has no way to write a control character; what cannot be shown is left out, line breaks and tabs stay.
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
    }
  }
}

bool is_void(std::string_view name) {
  static constexpr std::array<std::string_view, 6> kVoid{"input", "br", "meta", "link", "hr", "img"};
  return std::find(kVoid.begin(), kVoid.end(), name) != kVoid.end();
}

}  // namespace

Html Html::text(std::string_view text) {
  std::string out;
  out.reserve(text.size() + 8);
  append_escaped(out, text);
  return Html{std::move(out)};
}

Html element(std::string_view name, const Attributes& attributes, const Html& children) {
  std::string out;
  out.reserve(children.str().size() + 2 * name.size() + 40 * attributes.size() + 8);
  out += '<';
  out += name;
  for (const auto& [key, value] : attributes) {
    out += ' ';
    out += key;
    if (value == kBare) continue;
    out += "=\"";
    append_escaped(out, value);
    out += '"';
  }
  out += '>';
  if (is_void(name)) return Html{std::move(out)};
  out += children.str();
  out += "</";
  out += name;
  out += '>';
  return Html{std::move(out)};
}

}  // namespace lampside::page
