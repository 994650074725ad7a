#include "server/urlencoded.hpp"

#include <algorithm>
#include <cstdint>
#include <optional>

namespace lampside::server {
namespace {

std::optional<unsigned> hex_digit(char c) {
  if (c >= '0' && c <= '9') return static_cast<unsigned>(c - '0');
  if (c >= 'a' && c <= 'f') return static_cast<unsigned>(c - 'a') + 10U;
  if (c >= 'A' && c <= 'F') return static_cast<unsigned>(c - 'A') + 10U;
  return std::nullopt;
}

bool unreserved(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' || c == '.' ||
         c == '_' || c == '~';
}

std::string_view trimmed(std::string_view s) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!s.empty() && blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && blank(s.back())) s.remove_suffix(1);
  return s;
}

}  // namespace

bool valid_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const auto lead = static_cast<unsigned char>(text[i]);
    std::size_t more = 0;
    std::uint32_t point = 0, least = 0;
    if (lead < 0x80) {
      ++i;
      continue;
    }
    if (lead >= 0xC2 && lead <= 0xDF) {
      more = 1, point = lead & 0x1FU, least = 0x80;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
      more = 2, point = lead & 0x0FU, least = 0x800;
    } else if (lead >= 0xF0 && lead <= 0xF4) {
      more = 3, point = lead & 0x07U, least = 0x10000;
    } else {
      return false;
    }
    if (text.size() - i <= more) return false;
    for (std::size_t k = 1; k <= more; ++k) {
      const auto next = static_cast<unsigned char>(text[i + k]);
      if ((next & 0xC0U) != 0x80U) return false;
      point = (point << 6U) | (next & 0x3FU);
    }
    if (point < least || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF)) return false;
    i += more + 1;
  }
  return true;
}

Result<std::string> percent_decode(std::string_view text, Plus plus) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+' && plus == Plus::is_space) {
      out += ' ';
    } else if (text[i] == '%') {
      const auto high = i + 2 < text.size() ? hex_digit(text[i + 1]) : std::nullopt;
      const auto low = high ? hex_digit(text[i + 2]) : std::nullopt;
      if (!low)
        return problem("FORM_PERCENT", "a % in the address or form is not followed by two hex digits",
                       "go back and open the page again");
      out += static_cast<char>(*high * 16U + *low);
      i += 2;
    } else {
      out += text[i];
    }
  }
  if (out.find('\0') != std::string::npos)
    return problem("FORM_NUL", "the text holds a zero byte", "type it again by hand");
  if (!valid_utf8(out)) return problem("FORM_UTF8", "the text is not valid UTF-8", "type it again by hand");
  return out;
}

std::string percent_encode(std::string_view text) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string out;
  for (const char c : text) {
    if (unreserved(c)) {
      out += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      out += '%';
      out += digits[byte >> 4U];
      out += digits[byte & 15U];
    }
  }
  return out;
}

Result<std::multimap<std::string, std::string>> parse_form(std::string_view text, const FormLimits& limits) {
  std::multimap<std::string, std::string> out;
  while (!text.empty()) {
    const auto end = std::min(text.find('&'), text.size());
    const auto pair = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (pair.empty()) continue;
    if (out.size() == limits.fields)
      return problem("FORM_TOO_MANY", "the form has too many fields", "go back and open the page again");
    const auto equals = std::min(pair.find('='), pair.size());
    auto name = percent_decode(pair.substr(0, equals), Plus::is_space);
    if (!name) return tl::unexpected(name.error());
    auto value = percent_decode(pair.substr(std::min(equals + 1, pair.size())), Plus::is_space);
    if (!value) return tl::unexpected(value.error());
    if (name->size() > limits.name || value->size() > limits.value)
      return problem("FORM_TOO_LONG", "one field of the form is too long", "write less in it");
    out.emplace(std::move(*name), std::move(*value));
  }
  return out;
}

Result<std::vector<std::string>> parse_path(std::string_view path) {
  if (path.empty() || path.front() != '/')
    return problem("PATH_FORM", "the address does not begin with /", "open the address that Lampside printed");
  std::vector<std::string> out;
  while (!path.empty()) {
    path.remove_prefix(1);
    const auto end = std::min(path.find('/'), path.size());
    auto part = percent_decode(path.substr(0, end), Plus::is_plus);
    if (!part) return tl::unexpected(part.error());
    out.push_back(std::move(*part));
    path.remove_prefix(end);
  }
  while (!out.empty() && out.back().empty()) out.pop_back();
  return out;
}

std::map<std::string, std::string> parse_cookies(std::string_view header) {
  std::map<std::string, std::string> out;
  while (!header.empty()) {
    const auto end = std::min(header.find(';'), header.size());
    const auto pair = trimmed(header.substr(0, end));
    header.remove_prefix(std::min(end + 1, header.size()));
    const auto equals = pair.find('=');
    if (equals == std::string_view::npos || equals == 0) continue;
    out.emplace(trimmed(pair.substr(0, equals)), trimmed(pair.substr(equals + 1)));
  }
  return out;
}

}  // namespace lampside::server
