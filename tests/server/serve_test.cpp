// The door for the command line: addresses, keys, restarts, the QR code.
#include "server/serve.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <qrcodegen/qrcodegen.hpp>
#include <regex>
#include <sstream>

#include "house.hpp"
#include "server/guard.hpp"

namespace lampside::server {
namespace {

using test::at;
using test::id;
using ::testing::HasSubstr;
using ::testing::StartsWith;

ServeOptions options(store::Journal& journal) {
  return {.clock = [] { return at("2026-03-02T10:00:00+01:00"); }, .journal = journal};
}

std::string token_in(const std::string& body) {
  std::smatch found;
  return std::regex_search(body, found, std::regex{"name=\"token\" value=\"([0-9a-f]+)\""}) ? found[1].str() : "";
}

TEST(Serve, OnTheLoopbackWithoutAKey) {
  test::MemoryJournal journal;
  const auto running = serve(options(journal));
  ASSERT_TRUE(running) << to_text(running.error());
  const auto port = std::to_string((*running)->port());
  EXPECT_EQ((*running)->address(), "127.0.0.1:" + port);
  EXPECT_EQ((*running)->url(), "http://127.0.0.1:" + port + "/");
  EXPECT_EQ(test::get((*running)->port(), "/").status, 200);
  EXPECT_EQ(test::get((*running)->port(), "/", "Host: localhost:" + port + "\r\n").status, 200);
}

TEST(Serve, ATakenPortIsToldClearly) {
  test::MemoryJournal journal;
  const auto first = serve(options(journal));
  ASSERT_TRUE(first);
  auto same = options(journal);
  same.port = (*first)->port();
  EXPECT_EQ(serve(same).error().code, "LISTEN_BUSY");
}

TEST(Serve, AFormOpenedBeforeARestartStillWorks) {
  const auto folder = std::filesystem::temp_directory_path() / ("lampside-serve-" + random_id());
  std::string token;
  {
    auto journal = store::open_sqlite(folder.string());
    ASSERT_TRUE(journal) << to_text(journal.error());
    const auto running = serve(options(**journal));
    token = token_in(test::get((*running)->port(), "/").body);
  }
  ASSERT_EQ(token.size(), 32U);
  {
    auto journal = store::open_sqlite(folder.string());
    const auto running = serve(options(**journal));
    const auto a = test::post((*running)->port(), "/start", {{"token", token}, {"id", id(1)}, {"dam_name", "Juniper"}});
    EXPECT_EQ(a.status, 303) << a.body;
    EXPECT_EQ(test::get((*running)->port(), "/l/juniper-2026/now").status, 200);
    EXPECT_EQ(test::get((*running)->port(), "/l/juniper-2026/paper/weights-to-fill.pdf").body.substr(0, 5), "%PDF-");
  }
  std::filesystem::remove_all(folder);
  test::MemoryJournal other;
  const auto running = serve(options(other));
  EXPECT_EQ(test::post((*running)->port(), "/start", {{"token", token}, {"id", id(1)}, {"dam_name", "Juniper"}}).status,
            403);
}

TEST(Serve, BeyondTheLoopbackAKeyLetsADeviceIn) {
  test::MemoryJournal journal;
  const auto secret = fresh_secret();
  ASSERT_TRUE(journal.setting("secret", secret));
  // Bound to the loopback all the same: the guard is what is tried here, with the policy of an address beyond.
  Guard guard{{.secret = secret, .address = "0.0.0.0", .lan = [] { return std::vector<std::string>{"192.168.7.20"}; }}};
  const auto key = guard.key();
  App app{{.journal = journal,
           .clock = [] { return at("2026-03-02T10:00:00+01:00"); },
           .fresh_id = random_id,
           .zones = test::zone_of,
           .local_zone = "UTC",
           .reference = reference::built_in(),
           .paper = {},
           .calendar = {}},
          std::move(guard)};
  const auto listener = listen("127.0.0.1", 0, [&](const Request& r) { return app.handle(r); }, {}, safe_headers());
  const int port = (*listener)->port();
  EXPECT_EQ(test::get(port, "/").status, 403);
  EXPECT_EQ(test::get(port, "/?key=" + std::string(32, '0')).status, 403);
  EXPECT_EQ(test::get(port, "/?key=" + key, "Host: evil.example\r\n").status, 421);
  const auto in = test::get(port, "/start?key=" + key, "Host: 192.168.7.20\r\n");
  EXPECT_EQ(in.status, 303);
  EXPECT_EQ(in.header("location"), "/start");
  const auto cookie = in.header("set-cookie");
  EXPECT_THAT(cookie, HasSubstr("HttpOnly"));
  EXPECT_THAT(cookie, HasSubstr("SameSite=Strict"));
  const auto sent = "Cookie: " + cookie.substr(0, cookie.find(';')) + "\r\n";
  EXPECT_EQ(test::get(port, "/", sent).status, 200);
  EXPECT_EQ(test::post(port, "/start", {{"dam_name", "x"}}).status, 403);
}

TEST(Serve, TheUrlBeyondTheLoopbackCarriesTheKey) {
  for (const auto& url : served_urls("0.0.0.0", 8080, "abc")) {
    EXPECT_THAT(url, StartsWith("http://"));
    EXPECT_THAT(url, HasSubstr(":8080/?key=abc"));
  }
  EXPECT_EQ(served_urls("192.168.7.20", 8080, "abc"), std::vector<std::string>{"http://192.168.7.20:8080/?key=abc"});
  EXPECT_EQ(served_urls("::1", 8080, ""), std::vector<std::string>{"http://[::1]:8080/"});
  EXPECT_FALSE(served_urls("::", 8080, "abc").empty());
}

/// The squares of a QR code read back from its characters; true is light.
std::vector<std::vector<bool>> squares(const std::string& text) {
  std::vector<std::vector<bool>> rows;
  std::istringstream lines{text};
  for (std::string line; std::getline(lines, line);) {
    std::vector<bool> top, bottom;
    for (std::size_t i = 0; i < line.size();) {
      const auto piece = line.substr(i, line[i] == ' ' ? 1 : 3);
      top.push_back(piece == "█" || piece == "▀");
      bottom.push_back(piece == "█" || piece == "▄");
      i += piece.size();
    }
    rows.push_back(top);
    rows.push_back(bottom);
  }
  return rows;
}

TEST(TextQr, DrawsTheCodeWithItsMargin) {
  const std::string url = "http://192.168.7.20:8080/?key=00112233445566778899aabbccddeeff";
  const auto code = qrcodegen::QrCode::encodeText(url.c_str(), qrcodegen::QrCode::Ecc::LOW);
  const auto rows = squares(text_qr(url, Ink::plain));
  const int size = code.getSize();
  ASSERT_EQ(rows[0].size(), static_cast<std::size_t>(size + 8));
  ASSERT_GE(rows.size(), static_cast<std::size_t>(size + 8));
  int dark = 0;
  for (int y = -4; y < size + 4; ++y)
    for (int x = -4; x < size + 4; ++x) {
      const bool light = rows[static_cast<std::size_t>(y + 4)][static_cast<std::size_t>(x + 4)];
      ASSERT_EQ(light, !code.getModule(x, y)) << x << "," << y;
      dark += light ? 0 : 1;
    }
  EXPECT_GT(dark, 200);
  EXPECT_THAT(text_qr(url, Ink::colours), HasSubstr("\033[0m\n"));
}

TEST(RandomId, IsAUuidOfVersionFour) {
  const std::regex form{"[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"};
  for (int i = 0; i < 100; ++i) EXPECT_TRUE(std::regex_match(random_id(), form));
  EXPECT_NE(random_id(), random_id());
}

}  // namespace
}  // namespace lampside::server
