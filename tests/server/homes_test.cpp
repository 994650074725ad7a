// Homes over HTTP: who a family is stays out of the journal, can be asked for and erased; turns are kept.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "house.hpp"
#include "server/app.hpp"

namespace lampside::server {
namespace {

using test::House;
using test::id;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

struct HomesTest : ::testing::Test {
  HomesTest() { house.with_pups(); }
  /// A new family's id.
  std::string add(const std::string& name, int n) {
    const auto a =
        house.post("/l/juniper-2026/person", {{"name", name},
                                              {"phone", "01632 960777"},
                                              {"sex", "female"},
                                              {"id", "0000000" + std::to_string(n) + "-0000-4000-8000-000000000777"}});
    EXPECT_EQ(a.status, 303) << a.body;
    return "f-0000000" + std::to_string(n);
  }
  std::string journal() {
    std::string out;
    for (const auto& e : house.journal.all()) out += record::encode_line(e) + "\n";
    return out;
  }
  test::Answer get(const std::string& what) { return house.get("/l/juniper-2026/" + what); }
  House house;
};

TEST_F(HomesTest, ANameIsOnTheScreenAndNowhereInTheJournal) {
  const auto f = add("Ines Hartwell", 1);
  EXPECT_EQ(record::body_as<record::Family>(house.last())->family, f);
  EXPECT_EQ(record::body_as<record::Family>(house.last())->sex, record::Sex::female);
  EXPECT_THAT(get("homes").body, HasSubstr("Ines Hartwell"));
  EXPECT_THAT(get("homes?family=" + f).body, HasSubstr("01632 960777"));
  EXPECT_THAT(journal(), Not(HasSubstr("Hartwell")));
  EXPECT_THAT(journal(), Not(HasSubstr("960777")));
  EXPECT_THAT(get("log").body, Not(HasSubstr("Hartwell")));
}

TEST_F(HomesTest, AFormSentTwiceIsOneFamily) {
  add("Ines", 1);
  add("Ines", 1);
  EXPECT_EQ(house.journal.people().list().value().size(), 1u);
}

TEST_F(HomesTest, WhatIsRefusedComesBackAndTheReasonDoesNotRepeatIt) {
  const auto none = house.post("/l/juniper-2026/person", {{"form", "person"}, {"address", "3 Mill Lane"}});
  EXPECT_EQ(none.status, 422);
  EXPECT_THAT(none.body, HasSubstr("3 Mill Lane")) << "what was typed is lost";
  EXPECT_THAT(none.body, HasSubstr("ype at least one of them"));
  const auto card = house.post("/l/juniper-2026/person", {{"form", "person"}, {"vcard", "Hartwell"}});
  EXPECT_EQ(card.status, 422);
  const auto box = card.body.substr(card.body.find("class=\"problem"), 600);
  EXPECT_THAT(box, Not(HasSubstr("Hartwell")));
  EXPECT_THAT(house.journal.people().list().value(), IsEmpty());
  EXPECT_EQ(house.post("/l/juniper-2026/person", {{"family", "f-nobody"}, {"name", "Ines"}}).status, 422);
}

TEST_F(HomesTest, AVCardComesInAndGoesOut) {
  ASSERT_EQ(
      house
          .post("/l/juniper-2026/person",
                {{"vcard", "BEGIN:VCARD\nVERSION:3.0\nN:Quill;Tess;;;\nTEL:01632 960123\nUID:elsewhere\nEND:VCARD"},
                 {"id", "00000009-0000-4000-8000-000000000777"}})
          .status,
      303);
  const auto card = get("family.vcf?family=f-00000009");
  EXPECT_EQ(card.status, 200);
  EXPECT_THAT(card.header("content-type"), HasSubstr("text/vcard"));
  EXPECT_THAT(card.body, HasSubstr("FN:Tess Quill\r\n"));
  EXPECT_THAT(card.body, HasSubstr("f-00000009"));
}

TEST_F(HomesTest, AllThatIsKeptIsHandedOutAndErasedOnRequest) {
  const auto f = add("Ines Hartwell", 1);
  ASSERT_EQ(house.record({{"kind", "deposit"}, {"family", f}, {"amount", "200,50"}, {"currency", "GBP"}}).status, 303);
  const auto kept = record::Json::parse(get("family.json?family=" + f).body);
  EXPECT_EQ(kept["person"]["name"], "Ines Hartwell");
  EXPECT_EQ(kept["entries"].size(), 2u);
  const auto before = get("money.csv").body;
  EXPECT_THAT(before, HasSubstr("200.50,GBP,deposit," + f));
  EXPECT_THAT(before, Not(HasSubstr("Hartwell")));

  EXPECT_EQ(house.post("/l/juniper-2026/erase", {{"form", "erase"}, {"family", f}}).status, 422) << "not confirmed";
  EXPECT_EQ(house.journal.people().list().value().size(), 1u);
  ASSERT_EQ(house.post("/l/juniper-2026/erase", {{"family", f}, {"sure", "yes"}}).status, 303);
  EXPECT_THAT(house.journal.people().list().value(), IsEmpty());
  EXPECT_TRUE(record::body_as<record::Erased>(house.last()));
  EXPECT_EQ(get("money.csv").body, before);
  for (const auto* page : {"homes", "homes?money=1", "log"}) EXPECT_THAT(get(page).body, Not(HasSubstr("Hartwell")));
  EXPECT_THAT(get("homes?family=" + f).body, HasSubstr("was erased"));
  EXPECT_EQ(get("family.vcf?family=" + f).status, 404);
  EXPECT_EQ(house.post("/l/juniper-2026/erase", {{"family", "Ines Hartwell"}, {"sure", "yes"}}).status, 422);
}

TEST_F(HomesTest, FreeWordsThatNameThemAreShownAndTakenOutOnlyWhenSaid) {
  const auto f = add("Ines Hartwell", 1);
  house.record({{"kind", "note"}, {"note", "The Hartwells came to see pup 2"}});
  const auto kept_words = house.last().id;
  house.record({{"kind", "note"}, {"note", "Ines rang: Hartwell is well"}});
  const auto taken_out = house.last().id;
  const auto page = get("homes?family=" + f);
  EXPECT_THAT(page.body, HasSubstr("The Hartwells came to see pup 2"));
  EXPECT_THAT(page.body, HasSubstr("2 entries in the journal seem to name them"));
  const auto money = get("money.csv").body;

  const auto silent = house.post("/l/juniper-2026/erase", {{"form", "erase"}, {"family", f}, {"sure", "yes"}});
  EXPECT_EQ(silent.status, 422) << "not a word about the notes";
  EXPECT_THAT(silent.body, HasSubstr("choose for each"));
  EXPECT_EQ(house.journal.people().list().value().size(), 1u);
  ASSERT_EQ(house
                .post("/l/juniper-2026/erase",
                      {{"family", f}, {"sure", "yes"}, {"out-" + kept_words, "no"}, {"out-" + taken_out, "yes"}})
                .status,
            303);
  const auto log = get("log").body;
  EXPECT_THAT(log, HasSubstr("The Hartwells came to see pup 2")) << "it was said to be left";
  EXPECT_THAT(log, HasSubstr("[erased] rang: [erased] is well"));
  EXPECT_THAT(log, Not(HasSubstr("Ines rang")));
  EXPECT_EQ(get("money.csv").body, money);
}

TEST_F(HomesTest, AVCardComesInAsAFileOrIsRefusedWithNothingLost) {
  const auto send = [&](const std::string& file, const std::string& name) {
    std::string body;
    for (const auto& [field, value] :
         std::vector<std::pair<std::string, std::string>>{{"token", house.token()},
                                                          {"id", "00000009-0000-4000-8000-000000000777"},
                                                          {"form", "person"},
                                                          {"name", name},
                                                          {"vcard", ""}})
      body += "--B\r\nContent-Disposition: form-data; name=\"" + field + "\"\r\n\r\n" + value + "\r\n";
    body +=
        "--B\r\nContent-Disposition: form-data; name=\"card\"; filename=\"tess.vcf\"\r\n\r\n" + file + "\r\n--B--\r\n";
    return test::ask(house.port(), "POST", "/l/juniper-2026/person",
                     "Content-Type: multipart/form-data; boundary=B\r\nOrigin: http://127.0.0.1:" +
                         std::to_string(house.port()) + "\r\n",
                     body);
  };
  const auto program = send(std::string{"\x7f"
                                        "ELF\0\1",
                                        6},
                            "Tess");
  EXPECT_EQ(program.status, 422);
  EXPECT_THAT(program.body, HasSubstr("value=\"Tess\""));
  EXPECT_EQ(send(std::string(3 << 20, 'x'), "Tess").status, 422);
  EXPECT_THAT(house.journal.people().list().value(), IsEmpty());
  const auto taken = send("BEGIN:VCARD\r\nVERSION:4.0\r\nFN:Tess Quill\r\nTEL:01632 960123\r\nEND:VCARD\r\n", "");
  EXPECT_EQ(taken.status, 303) << taken.body.substr(0, 3000);
  EXPECT_EQ(house.journal.people().get("f-00000009").value()->name, "Tess Quill");
  EXPECT_THAT(get("family.vcf?family=f-00000009").header("content-disposition"), HasSubstr("attachment"));
}

TEST_F(HomesTest, TheTableHasNamesOnlyWhereAskedAndTheOrderHasNone) {
  const auto f = add("Ines Hartwell", 1);
  house.record({{"kind", "deposit"}, {"family", f}, {"amount", "200"}, {"currency", "GBP"}});
  EXPECT_THAT(get("money.csv?names=1").body, HasSubstr("200.00,GBP,deposit,Ines Hartwell,"));
  EXPECT_THAT(get("money.csv").body, Not(HasSubstr("Hartwell")));
  const auto order = get("order.txt");
  EXPECT_THAT(order.header("content-type"), HasSubstr("text/plain"));
  EXPECT_THAT(order.body, HasSubstr("Place 1: waits"));
  EXPECT_THAT(order.body, HasSubstr("Who passes keeps the place"));
  EXPECT_THAT(order.body, HasSubstr("If a pup dies"));
  EXPECT_THAT(order.body, Not(HasSubstr("Hartwell")));
}

TEST_F(HomesTest, OnlyAFamilyThatAgreedIsAskedLater) {
  const auto f = add("Ines", 1);
  ASSERT_EQ(house.record({{"kind", "choice"}, {"made", "pick"}, {"family", f}, {"about", "1"}}).status, 303);
  house.turn_clock("2026-05-10T10:00:00+02:00");
  ASSERT_EQ(house.record({{"kind", "handover"}, {"about", "1"}, {"family", f}}).status, 303);
  house.turn_clock("2026-09-10T10:00:00+02:00");
  EXPECT_THAT(get("now").body, Not(HasSubstr("agreed to be asked")));
  ASSERT_EQ(house.record({{"kind", "consent"}, {"family", f}, {"what", "follow_up"}, {"given", "true"}}).status, 303);
  EXPECT_THAT(get("homes?family=" + f).body, HasSubstr("yes"));
  EXPECT_THAT(get("now").body, HasSubstr("agreed to be asked"));
  ASSERT_EQ(house.record({{"kind", "follow_up"}, {"about", "1"}, {"news", "well"}, {"grams", "12000"}}).status, 303);
  EXPECT_THAT(get("now").body, Not(HasSubstr("agreed to be asked")));
  EXPECT_THAT(get("pup?label=1").body, HasSubstr("12000"));
}

TEST_F(HomesTest, ATurnIsKeptUnlessAReasonIsGiven) {
  const auto first = add("Ines", 1), second = add("Tess", 2);
  const auto early =
      house.record({{"kind", "choice"}, {"made", "pick"}, {"family", second}, {"about", "1"}, {"back", "homes"}});
  EXPECT_EQ(early.status, 422);
  EXPECT_THAT(early.body, HasSubstr("write down why the order is left"));
  EXPECT_EQ(house
                .record({{"kind", "choice"},
                         {"made", "pick"},
                         {"family", second},
                         {"about", "1"},
                         {"why", "the first is abroad"}})
                .status,
            303);
  EXPECT_EQ(house.record({{"kind", "choice"}, {"made", "pick"}, {"family", first}, {"about", "1"}}).status, 422);
  EXPECT_EQ(house.record({{"kind", "choice"}, {"made", "pick"}, {"family", first}, {"about", "2"}}).status, 303);
}

TEST_F(HomesTest, ADepartureTakesAFamilyAndNoName) {
  const auto f = add("Ines", 1);
  EXPECT_EQ(house.record({{"kind", "departure"}, {"about", "1"}, {"to", "the Hartwells"}}).status, 422);
  EXPECT_EQ(house.record({{"kind", "departure"}, {"about", "1"}, {"to", f}}).status, 303);
}

TEST_F(HomesTest, AnAmountThatIsNoneIsRefused) {
  for (const char* amount : {"", "abc", "-5", "1.2345", "1e99"})
    EXPECT_EQ(house
                  .record({{"kind", "money"},
                           {"amount", amount},
                           {"direction", "out"},
                           {"for", "vet"},
                           {"back", "homes?money=1"}})
                  .status,
              422)
        << amount;
}

}  // namespace
}  // namespace lampside::server
