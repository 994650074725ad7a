#include "draw/pdf/pdf.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <thread>

#include "draw/charts.hpp"
#include "draw/palette.hpp"
#include "fixture.hpp"
#include "poppler.hpp"

namespace lampside::draw {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

const Stamp kMade{test::at("2026-03-10T09:30:00+01:00"), Minutes{60}};

std::string sample(const Stamp& made = kMade) {
  PdfCanvas canvas{{595.28, 841.89}, {"Weights <b>&\"", made}};
  canvas.text({40, 40}, "Björn & <b>&\" 412 g, 37.5 °C", {12, Weight::bold, kInk}, Align::left);
  draw_weights(canvas, {40, 60, 500, 300}, test::litter(12, 30), 9);
  canvas.next_page();
  draw_temperatures(canvas, {40, 60, 500, 300}, test::temperatures(), 9);
  return canvas.finish();
}

TEST(Pdf, SameDrawingSameBytes) {
  const std::string first = sample();
  ASSERT_TRUE(first.starts_with("%PDF-"));
  EXPECT_EQ(first, sample());
  EXPECT_NE(first, sample({kMade.instant + std::chrono::hours(1), kMade.offset}));
}

TEST(Pdf, ThreadsDoNotDisturbEachOther) {
  const std::string alone = sample();
  std::string a, b;
  std::thread one{[&] { a = sample(); }}, two{[&] { b = sample(); }};
  one.join();
  two.join();
  EXPECT_EQ(a, alone);
  EXPECT_EQ(b, alone);
}

TEST(Pdf, MemoryDoesNotGrowWithDocumentsOrThreads) {
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
  GTEST_SKIP() << "a sanitizer's own allocator does not tell how much is in use";
#endif
  const auto resident_kb = [] {
    std::ifstream statm{"/proc/self/statm"};
    long size = 0, resident = 0;
    statm >> size >> resident;
    return resident * sysconf(_SC_PAGESIZE) / 1024;
  };
  const auto make = [&](int documents) {
    for (int i = 0; i < documents; ++i) std::thread{[] { (void)sample(); }}.join();
    return resident_kb();
  };
  const long after_first = make(30);
  ASSERT_GT(after_first, 0);
  // A thread's fonts are about 45 kB: kept, they would add 2,700 kB.
  EXPECT_LT(make(60), after_first + 1000);
}

TEST(Pdf, TextComesOutAsItWentIn) {
  SKIP_WITHOUT("pdftotext");
  const std::string text = test::run_on(sample(), "pdftotext -layout - -");
  EXPECT_THAT(text, HasSubstr("Björn & <b>&\" 412 g, 37.5 °C"));
  EXPECT_THAT(text, HasSubstr("12 turquoise"));
  EXPECT_THAT(text, HasSubstr("first pup 21:40"));
}

TEST(Pdf, TitleDateAndPages) {
  SKIP_WITHOUT("pdfinfo");
  const std::string info = test::run_on(sample(), "pdfinfo -isodates -");
  EXPECT_THAT(info, HasSubstr("Weights <b>&\""));
  EXPECT_THAT(info, HasSubstr("CreationDate:    2026-03-10T09:30:00+01"));
  EXPECT_THAT(info, HasSubstr("Pages:           2"));
  EXPECT_THAT(info, HasSubstr("(A4)"));
}

TEST(Pdf, EveryFontIsEmbeddedAndASubset) {
  SKIP_WITHOUT("pdffonts");
  const std::string table = test::run_on(sample(), "pdffonts -");
  EXPECT_EQ(test::fonts_not_embedded(table), "") << table;
  EXPECT_THAT(table, HasSubstr("Inter")) << "without fonts-inter the page is set in another font";
  EXPECT_EQ(test::fonts_not_embedded(
                "name type encoding emb sub uni\n---- ----\nABCDEF+Inter Type 1C WinAnsi no yes yes 5 0\n"),
            "ABCDEF+Inter");  // the check can say no
}

TEST(Pdf, BrokenBytesAreNoTrouble) {
  PdfCanvas canvas{{100, 100}, {"\xFF", kMade}};
  canvas.text({1, 10}, "a\xFF\x01", {10, Weight::regular, kInk}, Align::left);
  EXPECT_TRUE(canvas.finish().starts_with("%PDF-"));
}

TEST(Pdf, TableFiguresAreOneWidth) {
  const PdfCanvas canvas{{100, 100}, {"", kMade}};
  EXPECT_NEAR(canvas.text_width("1111", {100, Weight::regular, kInk}),
              canvas.text_width("8040", {100, Weight::regular, kInk}), 0.2);
}

}  // namespace
}  // namespace lampside::draw
