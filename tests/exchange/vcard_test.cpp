// vCards (RFC 6350): there and back, folded and escaped, and what telephones write.
#include "exchange/vcard.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <sstream>

namespace lampside::exchange {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

Result<std::vector<record::Person>> read(const std::string& text) {
  std::istringstream in{text};
  return read_vcards(in);
}
std::string code_of(const std::string& text) {
  const auto cards = read(text);
  return cards ? "read" : cards.error().code;
}
record::Person ines() {
  return {"f-17",
          "Ines Hartwell; \"Ina\"",
          "+44 1632 960777",
          "ines@example.org",
          "3 Mill Lane, rear\nUpper Dene",
          "rings late\\ never before 8:00",
          CivilDay{std::chrono::year{2029} / 11 / 30},
          true};
}

TEST(VCard, IsWrittenAsTheStandardAsks) {
  EXPECT_EQ(to_vcard(ines()),
            "BEGIN:VCARD\r\nVERSION:4.0\r\nUID;VALUE=text:f-17\r\nFN:Ines Hartwell\\; \"Ina\"\r\n"
            "TEL;VALUE=text:+44 1632 960777\r\nEMAIL:ines@example.org\r\n"
            "ADR:;;3 Mill Lane\\, rear\\nUpper Dene;;;;\r\nNOTE:rings late\\\\ never before 8:00\r\n"
            "X-LAMPSIDE-KEEP-UNTIL:2029-11-30\r\nX-LAMPSIDE-CONSENT:TRUE\r\nEND:VCARD\r\n");
}

TEST(VCard, LongLinesAreFoldedBetweenLettersAndComeBack) {
  auto person = ines();
  person.note.clear();
  for (int i = 0; i < 60; ++i) person.note += "Füße, ";
  const auto card = to_vcard(person);
  std::size_t from = 0;
  for (auto end = card.find("\r\n"); end != std::string::npos; from = end + 2, end = card.find("\r\n", from)) {
    EXPECT_LE(end - from, 75u);
    EXPECT_NE(static_cast<unsigned char>(card[from]) & 0xC0u, 0x80u);
  }
  EXPECT_EQ(read(card).value(), std::vector{person});
}

std::string any_text() {
  return *rc::gen::container<std::string>(
      rc::gen::element('a', 'Z', '7', ' ', ',', ';', ':', '\\', '\n', '"', '=', '^', '-', 'n', 'N', '.'));
}

RC_GTEST_PROP(VCard, ComesBackAsItWent, ()) {
  std::vector<record::Person> people;
  std::string all;
  const int n = *rc::gen::inRange(1, 4);
  for (int i = 0; i < n; ++i) {
    record::Person p{.family = "f-" + std::to_string(i)};
    p.name = "x" + any_text(), p.phone = any_text(), p.email = any_text(), p.address = any_text(), p.note = any_text();
    p.consent = *rc::gen::arbitrary<bool>();
    all += to_vcard(p);
    people.push_back(std::move(p));
  }
  const auto back = read(all);
  RC_ASSERT(back.has_value());
  RC_ASSERT(*back == people);
}

TEST(VCard, ReadsWhatTelephonesWrite) {
  const auto cards = read(
      "BEGIN:VCARD\nVERSION:3.0\nPRODID:-//Some telephone//EN\nN:Quill;Tess;;Dr;\nitem1.TEL;type=CELL;type=VOICE:01632 "
      "960123\n"
      "TEL;VALUE=uri;TYPE=\"home,voice:x\":tel:+441632960124\nitem2.EMAIL;type=INTERNET:tess@example.org\n"
      "ADR;TYPE=HOME:;;5 Weir Road;Upper Dene;;UD1 1AA;England\nPHOTO;ENCODING=b;TYPE=JPEG:/9j/4AAQ\n "
      "SkZJRg==\nEND:VCARD\n");
  ASSERT_TRUE(cards) << to_text(cards.error());
  ASSERT_EQ(cards->size(), 1u);
  EXPECT_EQ(cards->front().name, "Dr Tess Quill");
  EXPECT_EQ(cards->front().phone, "01632 960123, +441632960124");
  EXPECT_EQ(cards->front().address, "5 Weir Road\nUpper Dene\nUD1 1AA\nEngland");
  EXPECT_EQ(cards->front().family, "");
}

TEST(VCard, WhatIsNoCardIsRefusedWithoutAWordOfIt) {
  EXPECT_EQ(code_of(""), "VCARD_EMPTY");
  EXPECT_EQ(code_of("Ines Hartwell"), "VCARD_SHAPE");
  EXPECT_EQ(code_of("TEL:01632 960777\n"), "VCARD_SHAPE");
  EXPECT_EQ(code_of("BEGIN:VCARD\nVERSION:4.0\nFN:Ines\n"), "VCARD_SHAPE");
  EXPECT_EQ(code_of("BEGIN:VCARD\nVERSION:4.0\nFN:Ines\nBEGIN:VCARD\n"), "VCARD_SHAPE");
  EXPECT_EQ(code_of("BEGIN:VCARD\nVERSION:2.1\nFN:Ines\nEND:VCARD\n"), "VCARD_VERSION");
  EXPECT_EQ(code_of("BEGIN:VCARD\nVERSION:4.0\nTEL:1\nEND:VCARD\n"), "VCARD_NAME");
  EXPECT_EQ(code_of(std::string("BEGIN:VCARD\nFN:\xff\n")), "FILE_ENCODING");
  for (const char* text : {"Hartwell", "BEGIN:VCARD\nVERSION:4.0\nFN:Hartwell\nHartwell\nEND:VCARD",
                           "BEGIN:VCARD\nVERSION:2.1\nFN:Hartwell\nEND:VCARD"}) {
    const auto cards = read(text);
    ASSERT_FALSE(cards);
    EXPECT_THAT(to_text(cards.error()), Not(HasSubstr("Hartwell")));
    EXPECT_THAT(to_text(cards.error()), HasSubstr("line "));
  }
}

}  // namespace
}  // namespace lampside::exchange
