#include "exchange/entry_id.hpp"

#include <array>
#include <bit>
#include <cstdint>

namespace lampside::exchange {
namespace {

using Digest = std::array<std::uint8_t, 20>;

/// SHA-1 (FIPS 180-4, section 6.1), here only because UUID version 5 is made of it: it names, it guards nothing.
Digest sha1(std::string message) {
  const std::uint64_t bits = message.size() * 8;
  message += '\x80';
  while (message.size() % 64 != 56) message += '\0';
  for (int shift = 56; shift >= 0; shift -= 8) message += static_cast<char>((bits >> shift) & 0xFF);

  std::array<std::uint32_t, 5> h{0x67452301, 0xEFCDAB89, 0x98BADCFE, 0x10325476, 0xC3D2E1F0};
  for (std::size_t block = 0; block < message.size(); block += 64) {
    std::array<std::uint32_t, 80> w{};
    for (std::size_t t = 0; t < 16; ++t)
      for (std::size_t k = 0; k < 4; ++k) w[t] = (w[t] << 8) | static_cast<std::uint8_t>(message[block + t * 4 + k]);
    for (std::size_t t = 16; t < 80; ++t) w[t] = std::rotl(w[t - 3] ^ w[t - 8] ^ w[t - 14] ^ w[t - 16], 1);
    auto [a, b, c, d, e] = h;
    for (std::size_t t = 0; t < 80; ++t) {
      const std::uint32_t f = t < 20   ? (b & c) | (~b & d)
                              : t < 40 ? b ^ c ^ d
                              : t < 60 ? (b & c) | (b & d) | (c & d)
                                       : b ^ c ^ d;
      const std::uint32_t k = t < 20 ? 0x5A827999 : t < 40 ? 0x6ED9EBA1 : t < 60 ? 0x8F1BBCDC : 0xCA62C1D6;
      const std::uint32_t next = std::rotl(a, 5) + f + e + k + w[t];
      e = d;
      d = c;
      c = std::rotl(b, 30);
      b = a;
      a = next;
    }
    h[0] += a, h[1] += b, h[2] += c, h[3] += d, h[4] += e;
  }
  Digest out{};
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = static_cast<std::uint8_t>(h[i / 4] >> (24 - 8 * (i % 4)));
  return out;
}

int hex_value(char c) { return c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1; }

/// Made once at random for rows of sheets; changing it would make every sheet taken in before new again.
constexpr std::string_view kRowSpace = "6f1c0b5e-3d0a-4a86-9a52-0e7c1f4d8b23";

}  // namespace

record::EntryId name_based_id(std::string_view space, std::string_view name) {
  std::string message;
  int high = -1;
  for (const char c : space) {
    const int v = hex_value(c);
    if (v < 0) continue;
    if (high < 0) {
      high = v;
    } else {
      message += static_cast<char>(high * 16 + v);
      high = -1;
    }
  }
  message += name;
  Digest d = sha1(std::move(message));
  d[6] = static_cast<std::uint8_t>((d[6] & 0x0F) | 0x50);  // version 5
  d[8] = static_cast<std::uint8_t>((d[8] & 0x3F) | 0x80);  // variant of RFC 9562
  std::string id;
  for (std::size_t i = 0; i < 16; ++i) {
    if (i == 4 || i == 6 || i == 8 || i == 10) id += '-';
    id += "0123456789abcdef"[d[i] >> 4];
    id += "0123456789abcdef"[d[i] & 0x0F];
  }
  return id;
}

record::EntryId row_id(std::string_view litter, std::string_view pup, std::string_view what, std::string_view when) {
  std::string name;
  for (const std::string_view part : {litter, pup, what, when}) {
    name += std::to_string(part.size());  // the length keeps ("ab","c") apart from ("a","bc")
    name += ':';
    name += part;
  }
  return name_based_id(kRowSpace, name);
}

}  // namespace lampside::exchange
