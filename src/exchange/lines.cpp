#include "exchange/lines.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace lampside::exchange {
namespace {

constexpr std::size_t kBlock = 64 * 1024;
constexpr std::string_view kBom = "\xEF\xBB\xBF";

struct Magic {
  std::size_t at;
  std::string_view bytes, kind, todo;
};
using namespace std::string_view_literals;
constexpr std::string_view kNoPicture = "type the weights into a table and save it as CSV";
constexpr std::array kMagics{
    Magic{0, "\xFF\xD8\xFF"sv, "a JPEG picture", kNoPicture},
    Magic{0, "\x89PNG"sv, "a PNG picture", kNoPicture},
    Magic{4, "ftypheic"sv, "a HEIC picture", kNoPicture},
    Magic{4, "ftyp"sv, "a picture or film of a phone", kNoPicture},
    Magic{0, "GIF8"sv, "a GIF picture", kNoPicture},
    Magic{0, "RIFF"sv, "a picture, film or sound", kNoPicture},
    Magic{0, "%PDF"sv, "a PDF", "copy its table into a spreadsheet and save that as CSV"},
    Magic{0, "PK\x03\x04"sv, "a spreadsheet or another packed file", "open it and save it as CSV (UTF-8)"},
    Magic{0, "\xD0\xCF\x11\xE0"sv, "an old spreadsheet or document", "open it and save it as CSV (UTF-8)"},
    Magic{0, "\x1F\x8B"sv, "a gzip file", "unpack it first (gunzip)"},
    Magic{0, "SQLite format 3"sv, "a database", "a copy of Lampside's store is put back with: lampside restore"},
    Magic{0, "\xFF\xFE"sv, "text in UTF-16", "save it as UTF-8"},
    Magic{0, "\xFE\xFF"sv, "text in UTF-16", "save it as UTF-8"},
};

/// What a file that cannot be text looks like, by its first bytes.
const Magic* magic_of(std::string_view head) {
  for (const Magic& m : kMagics)
    if (head.size() >= m.at + m.bytes.size() && head.substr(m.at, m.bytes.size()) == m.bytes) return &m;
  return nullptr;
}

/// Index of the first byte that begins no well-formed UTF-8 sequence (Unicode 15, table 3-7); npos if all is well.
std::size_t utf8_fault(std::string_view s) {
  const auto byte = [&](std::size_t i) { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0u; };
  for (std::size_t i = 0; i < s.size();) {
    const unsigned b = byte(i);
    if (b < 0x80) {
      ++i;
      continue;
    }
    const std::size_t tail = b >= 0xC2 && b <= 0xDF ? 1 : b >= 0xE0 && b <= 0xEF ? 2 : b >= 0xF0 && b <= 0xF4 ? 3 : 0;
    if (tail == 0) return i;
    const unsigned low = b == 0xE0 ? 0xA0 : b == 0xF0 ? 0x90 : 0x80;
    const unsigned high = b == 0xED ? 0x9F : b == 0xF4 ? 0x8F : 0xBF;
    if (byte(i + 1) < low || byte(i + 1) > high) return i;
    for (std::size_t k = 2; k <= tail; ++k)
      if (byte(i + k) < 0x80 || byte(i + k) > 0xBF) return i;
    i += tail + 1;
  }
  return std::string_view::npos;
}

}  // namespace

Problem at_line(std::size_t line, Problem p) {
  p.what = fmt::format("line {}: {}", line, p.what);
  return p;
}

LineReader::LineReader(std::istream& in, Limits limits, Progress progress)
    : in_{in}, limits_{limits}, progress_{std::move(progress)} {}

Result<void> LineReader::fill() {
  const bool first = bytes_ == 0;
  buffer_.erase(0, std::exchange(at_, 0));
  const std::size_t had = buffer_.size();
  buffer_.resize(had + kBlock);
  in_.read(buffer_.data() + had, static_cast<std::streamsize>(kBlock));
  const auto got = static_cast<std::size_t>(in_.gcount());
  buffer_.resize(had + got);
  bytes_ += got;
  if (in_.bad())
    return problem("FILE_READ", "the file cannot be read to its end", "check the disk or stick it lies on");
  ended_ = got < kBlock;
  if (first) {
    if (const Magic* m = magic_of(buffer_))
      return problem("FILE_BINARY", fmt::format("this is not a text file: it looks like {}", m->kind),
                     std::string(m->todo));
    if (buffer_.starts_with(kBom)) at_ = kBom.size();
  }
  if (bytes_ > limits_.bytes)
    return problem("FILE_TOO_BIG",
                   fmt::format("the file is larger than {} MiB, the most taken in at a time", limits_.bytes >> 20),
                   "check that it is the right file; a longer journal can be cut into parts (split -C 60m)");
  if (progress_ && !progress_(bytes_)) return problem("STOPPED", "stopped by you", "nothing was taken in");
  return {};
}

Result<bool> LineReader::next(std::string& line) {
  std::size_t from = at_;
  std::size_t end = 0;
  while ((end = buffer_.find('\n', from)) == std::string::npos) {
    const std::size_t length = buffer_.size() - at_;
    if (ended_) {
      if (length == 0) return false;
      end = buffer_.size();
      break;
    }
    if (length > limits_.line + 2) break;
    if (auto filled = fill(); !filled) return tl::unexpected(filled.error());
    from = at_ + length;  // what was there has no line end; a mark passed over moves at_, never past what follows it
    from = std::min(from, buffer_.size());
  }
  ++line_;
  const bool whole = end != std::string::npos && end - at_ <= limits_.line + 1;
  if (whole) line.assign(buffer_, at_, end - at_);
  if (whole && line.ends_with('\r')) line.pop_back();
  if (!whole || line.size() > limits_.line)
    return tl::unexpected(
        at_line(line_, {"LINE_TOO_LONG", fmt::format("longer than {} KiB", limits_.line >> 10),
                        "every entry or row stands on a line of its own; check that this is the right file"}));
  if (line_ > limits_.lines)
    return problem("FILE_TOO_BIG",
                   fmt::format("the file has more than {} lines, the most taken in at a time", limits_.lines),
                   "check that it is the right file; a longer journal can be cut into parts (split -l 900000)");
  at_ = std::min(end + 1, buffer_.size());
  if (auto checked = check(line); !checked) return tl::unexpected(checked.error());
  return true;
}

Result<void> LineReader::check(std::string& line) const {
  for (const char c : line) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte == '\r')
      return tl::unexpected(
          at_line(line_, {"FILE_LINE_ENDS", "the lines end in CR alone", "save the file with LF or CRLF line ends"}));
    if ((byte < 0x20 && byte != '\t') || byte == 0x7F)
      return tl::unexpected(
          at_line(line_, {"FILE_BINARY", fmt::format("this is not a text file: it holds the byte 0x{:02X}", byte),
                          "check that it is the right file"}));
  }
  if (const std::size_t fault = utf8_fault(line); fault != std::string_view::npos)
    return tl::unexpected(
        at_line(line_, {"FILE_ENCODING", fmt::format("not UTF-8 text (at byte {} of the line)", fault + 1),
                        "save the file as UTF-8 (spreadsheets call it \"CSV UTF-8\")"}));
  return {};
}

}  // namespace lampside::exchange
