// The line reader: whatever file is handed in, a clear answer and little memory.
#include "exchange/lines.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace lampside::exchange {
namespace {

struct Read {
  std::vector<std::string> lines;
  std::string code, what;
};
Read read(std::string bytes, Limits limits = {}) {
  std::istringstream in{std::move(bytes)};
  LineReader reader{in, limits};
  Read out;
  std::string line;
  for (;;) {
    const auto more = reader.next(line);
    if (!more) {
      out.code = more.error().code;
      out.what = more.error().what;
      return out;
    }
    if (!*more) return out;
    out.lines.push_back(line);
  }
}
using Lines = std::vector<std::string>;

TEST(Lines, EndsAndByteOrderMark) {
  EXPECT_EQ(read("a\nb\n").lines, (Lines{"a", "b"}));
  EXPECT_EQ(read("a\r\nb").lines, (Lines{"a", "b"}));
  EXPECT_EQ(read("\xEF\xBB\xBF"
                 "a\n\nb")
                .lines,
            (Lines{"a", "", "b"}));
  EXPECT_EQ(read("\xEF\xBB\xBF").lines, Lines{});
  EXPECT_EQ(read("").lines, Lines{});
  EXPECT_EQ(read("grün\t12\n").lines, Lines{"grün\t12"});
}

TEST(Lines, LinesAcrossBlocksComeWhole) {
  // Lines of every length around the block's edge, so that an end falls on each side of it.
  std::string bytes;
  Lines want;
  for (std::size_t n = 60'000; n < 60'020; ++n) {
    want.push_back(std::string(n, static_cast<char>('a' + n % 26)));
    bytes += want.back() + (n % 2 == 0 ? "\n" : "\r\n");
  }
  EXPECT_EQ(read(bytes).lines, want);
}

TEST(Lines, WhatIsNoTextIsNamed) {
  struct Case {
    std::string bytes, code, says;
  };
  using namespace std::string_literals;
  const std::vector<Case> cases{
      {"\xFF\xD8\xFF\xE0\0\x10JFIF"s, "FILE_BINARY", "JPEG picture"},
      {"\x89PNG\r\n\x1A\n"s, "FILE_BINARY", "PNG picture"},
      {"\0\0\0\x18"
       "ftypheic"s,
       "FILE_BINARY", "HEIC picture"},
      {"PK\x03\x04zzz"s, "FILE_BINARY", "spreadsheet"},
      {"%PDF-1.7\n"s, "FILE_BINARY", "PDF"},
      {"SQLite format 3\0"s, "FILE_BINARY", "database"},
      {"\xFF\xFE"
       "a\0b\0"s,
       "FILE_BINARY", "UTF-16"},
      {"a\nb\0c\n"s, "FILE_BINARY", "line 2: this is not a text file: it holds the byte 0x00"},
      {"a\n\x1B[2J\n"s, "FILE_BINARY", "0x1B"},
      {"a\rb\rc"s, "FILE_LINE_ENDS", "CR alone"},
      {"ok\ngr\xFCn\n"s, "FILE_ENCODING", "line 2: not UTF-8 text (at byte 3"},
      {"\xC0\xAF"s, "FILE_ENCODING", "byte 1"},          // overlong
      {"\xED\xA0\x80"s, "FILE_ENCODING", "byte 1"},      // half a surrogate pair
      {"\xF4\x90\x80\x80"s, "FILE_ENCODING", "byte 1"},  // past U+10FFFF
      {"abc\xE2\x82"s, "FILE_ENCODING", "byte 4"},       // cut short
  };
  for (const Case& c : cases) {
    const Read got = read(c.bytes);
    EXPECT_EQ(got.code, c.code) << c.says;
    EXPECT_NE(got.what.find(c.says), std::string::npos) << got.what;
  }
  EXPECT_EQ(read("\xF0\x9F\x90\xB6\xED\x9F\xBF\xF4\x8F\xBF\xBF").code, "");  // the neighbours that are well-formed
}

TEST(Lines, LimitsHoldAtTheirEdge) {
  const Limits limits{10, 100, 3};
  EXPECT_EQ(read("0123456789\n", limits).lines.size(), 1u);
  EXPECT_EQ(read("0123456789\r\n", limits).lines.size(), 1u);
  EXPECT_EQ(read("0123456789a\n", limits).code, "LINE_TOO_LONG");
  EXPECT_EQ(read("a\nb\nc\n", limits).lines.size(), 3u);
  EXPECT_EQ(read("a\nb\nc\nd", limits).code, "FILE_TOO_BIG");
  EXPECT_EQ(read(std::string(101, '\n'), limits).code, "FILE_TOO_BIG");
}

TEST(Lines, ALineWithoutEndIsRefusedBeforeItIsHeld) {
  // A stream that would go on for ever: only a line's worth and a block or two may be taken from it.
  struct Endless : std::streambuf {
    std::size_t given = 0;
    std::streamsize xsgetn(char* to, std::streamsize n) override {
      std::fill(to, to + n, 'x');
      given += static_cast<std::size_t>(n);
      return n;
    }
    int_type underflow() override { return 'x'; }
  } source;
  std::istream in{&source};
  LineReader reader{in};
  std::string line;
  const auto more = reader.next(line);
  ASSERT_FALSE(more);
  EXPECT_EQ(more.error().code, "LINE_TOO_LONG");
  EXPECT_LE(source.given, 256u * 1024);
}

TEST(Lines, StoppedByTheKeeper) {
  std::istringstream in{"a\n"};
  LineReader reader{in, {}, [](std::size_t) { return false; }};
  std::string line;
  EXPECT_EQ(reader.next(line).error().code, "STOPPED");
}

}  // namespace
}  // namespace lampside::exchange
