#include "made.hpp"

#include <gtest/gtest.h>

#include <chrono>

#include "picture/sha256.hpp"

namespace lampside::picture {
namespace {

using test::jpeg;
using test::png;
using test::with_exif;

std::uint32_t pixel(const draw::Picture& p, double x, double y) {
  return p.pixels[static_cast<std::size_t>(y * p.height) * static_cast<std::size_t>(p.width) +
                  static_cast<std::size_t>(x * p.width)];
}
bool red(std::uint32_t rgb) { return (rgb >> 16U) > 150 && (rgb & 255U) < 90; }

// FIPS 180-4's examples as published by NIST (SHA256.pdf, "abc" and the two-block message), and the empty message.
TEST(Sha256, PublishedExamples) {
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256(std::string(1'000'000, 'a')), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  EXPECT_FALSE(is_sha256("../../etc/passwd"));
  EXPECT_FALSE(is_sha256(std::string(64, 'G')));
}

// Where the red quarter of an upright picture comes to lie for each orientation (JEITA CP-3451, tag 0x0112: the place
// of row 0 and column 0).
TEST(Clean, TurnsUpright) {
  struct {
    char orientation;
    bool on_its_side, right, bottom;
  } const cases[] = {{1, false, false, false}, {2, false, true, false}, {3, false, true, true}, {4, false, false, true},
                     {5, true, false, false},  {6, true, true, false},  {7, true, true, true},  {8, true, false, true}};
  const auto bare = jpeg(400, 200);
  for (const auto& c : cases) {
    const auto paper = for_paper(clean(with_exif(bare, c.orientation)).value(), 400).value();
    EXPECT_EQ(paper.width > paper.height, !c.on_its_side) << int{c.orientation};
    for (const bool right : {false, true})
      for (const bool bottom : {false, true})
        EXPECT_EQ(red(pixel(paper, right ? 0.75 : 0.25, bottom ? 0.75 : 0.25)), right == c.right && bottom == c.bottom)
            << "orientation " << int{c.orientation} << ", right " << right << ", bottom " << bottom;
  }
}

TEST(Clean, LeavesNothingInItButThePicture) {
  const auto told = with_exif(jpeg(400, 200), 6);
  ASSERT_NE(told.find("Mill Lane"), std::string::npos);
  const auto out = clean(told).value();
  EXPECT_EQ(out.find("Exif"), std::string::npos);
  EXPECT_EQ(out.find("Mill Lane"), std::string::npos);
  // Every segment before the picture's own: JFIF's mark, tables, frame, scan. No other application segment, no comment.
  std::size_t at = 2;
  while (static_cast<unsigned char>(out.at(at + 1)) != 0xda) {
    const auto marker = static_cast<unsigned char>(out[at + 1]);
    EXPECT_TRUE(marker == 0xe0 || marker == 0xdb || marker == 0xc0 || marker == 0xc4) << int{marker};
    at += 2 + 256 * std::size_t{static_cast<unsigned char>(out[at + 2])} +
          std::size_t{static_cast<unsigned char>(out[at + 3])};
  }
}

TEST(Clean, SameInSameOut) { EXPECT_EQ(clean(jpeg(300, 200)).value(), clean(jpeg(300, 200)).value()); }

TEST(Clean, MakesLargeOnesSmallAndLeavesSmallOnes) {
  const auto large = look(clean(png(3000, 1500)).value()).value();
  EXPECT_EQ(large.width, kKept);
  EXPECT_EQ(large.height, kKept / 2);
  const auto small = look(jpeg(40, 30)).value();
  EXPECT_EQ(small.width, 40);
  EXPECT_EQ(look(shrunk(jpeg(3000, 1500), kSmall).value()).value().width, kSmall);
}

/// A JPEG's frame header rewritten: it says it is that large, and holds hardly anything.
std::string claiming(std::string bytes, unsigned width, unsigned height) {
  const auto frame = bytes.find("\xff\xc0");
  for (const auto& [at, n] : {std::pair{frame + 5, height}, {frame + 7, width}}) {
    bytes[at] = static_cast<char>(n >> 8U);
    bytes[at + 1] = static_cast<char>(n & 255U);
  }
  return bytes;
}

TEST(Refuses, SixtyMegapixelsBeforeDecodingThem) {
  const auto begin = std::chrono::steady_clock::now();
  const auto answer = clean(claiming(jpeg(40, 30), 9000, 6700));
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().code, "PICTURE_LARGE");
  EXPECT_NE(answer.error().what.find("60 megapixels"), std::string::npos) << answer.error().what;
  EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::milliseconds{200});
  auto drawing = png(40, 30);  // and a PNG that says so in its head
  drawing.replace(16, 8, std::string{"\0\0\x23\x28\0\0\x1a\x2c", 8});
  EXPECT_EQ(clean(drawing).error().code, "PICTURE_LARGE");
}

TEST(Refuses, WhatIsNoPictureWhateverItsName) {
  using namespace std::string_literals;
  const auto elf = clean("\x7f"s + "ELF\x02\x01\x01"s);
  ASSERT_FALSE(elf);
  EXPECT_EQ(elf.error().code, "PICTURE_KIND");
  EXPECT_NE(elf.error().what.find("a program"), std::string::npos);
  for (const auto& bytes : {"MZ\x90"s, "%PDF-1.5"s, "<svg onload=x>"s, ""s, "\0\0\0\x18"s + "ftypmp420000"s})
    EXPECT_EQ(clean(bytes).error().code, "PICTURE_KIND") << bytes;
}

TEST(Refuses, HeicWithWhatToSetOnTheTelephone) {
  using namespace std::string_literals;
  for (const auto* brand : {"heic", "heix", "mif1"}) {
    const auto answer = clean("\0\0\0\x18"s + "ftyp" + brand + "0000mif1heic"s);
    ASSERT_FALSE(answer);
    EXPECT_EQ(answer.error().code, "PICTURE_HEIC") << brand;
    EXPECT_NE(answer.error().todo.find("set the camera to JPEG"), std::string::npos);
  }
}

TEST(Refuses, WhatIsBrokenOrCutOff) {
  const auto whole = jpeg(800, 600);
  EXPECT_EQ(clean(std::string_view{whole}.substr(0, whole.size() / 2)).error().code, "PICTURE_BROKEN");
  EXPECT_EQ(clean("\xff\xd8\xff").error().code, "PICTURE_BROKEN");
  EXPECT_EQ(clean("\x89PNG\r\n\x1a\n").error().code, "PICTURE_BROKEN");
  const auto drawing = png(200, 100);
  EXPECT_EQ(clean(std::string_view{drawing}.substr(0, drawing.size() / 2)).error().code, "PICTURE_BROKEN");
  // Every byte of the head turned over once: an answer each time, and no crash.
  for (std::size_t i = 0; i < std::min<std::size_t>(whole.size(), 700); ++i) {
    auto bent = whole;
    bent[i] = static_cast<char>(~bent[i]);
    (void)clean(bent);
  }
}

}  // namespace
}  // namespace lampside::picture
