#include "server/serve.hpp"

#include <chrono>

#include "advice/assessment.hpp"
#include "exchange/calendar.hpp"
#include "paper/forms.hpp"
#include "reference/tables.hpp"
#include "server/app.hpp"
#include "zone/zone.hpp"

namespace lampside::server {
namespace {

Instant system_now() { return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now()); }

std::string host_and_port(const std::string& address, int port) {
  return (address.find(':') == std::string::npos ? address : "[" + address + "]") + ":" + std::to_string(port);
}

Result<std::string> make_paper(std::string_view form, bool letter, const record::Litter& litter,
                               const advice::Assessment& assessment, const paper::Given& given) {
  return paper::make_form(form, letter ? paper::Sheet::letter : paper::Sheet::a4, litter, assessment, given);
}

std::string make_calendar(const record::Litter& litter, const advice::Assessment& assessment) {
  return exchange::to_calendar(assessment, litter);
}

class Served final : public Running {
 public:
  [[nodiscard]] int port() const override { return listener->port(); }
  [[nodiscard]] std::string address() const override { return host_and_port(where, port()); }
  [[nodiscard]] std::string url() const override { return urls().front(); }
  [[nodiscard]] std::vector<std::string> urls() const override { return served_urls(where, port(), key); }
  [[nodiscard]] std::string qr() const override { return text_qr(url(), Ink::colours); }

  std::string where, key;
  std::unique_ptr<App> app;            // after the listener in life: streams ask it
  std::unique_ptr<Listener> listener;  // destroyed first
};

}  // namespace

std::vector<std::string> served_urls(const std::string& address, int port, const std::string& key) {
  std::vector<std::string> names{address};
  if (address == "0.0.0.0" || address == "::") {
    names = lan_addresses();
    if (address == "0.0.0.0") std::erase_if(names, [](const auto& n) { return n.find(':') != std::string::npos; });
    if (names.empty()) names.emplace_back("127.0.0.1");
  }
  for (auto& name : names) name = "http://" + host_and_port(name, port) + "/" + (key.empty() ? "" : "?key=" + key);
  return names;
}

std::string random_id() {
  auto hex = fresh_secret().substr(0, 32);
  hex[12] = '4';
  hex[16] = "89ab"[static_cast<unsigned char>(hex[16]) % 4];
  return hex.substr(0, 8) + "-" + hex.substr(8, 4) + "-" + hex.substr(12, 4) + "-" + hex.substr(16, 4) + "-" +
         hex.substr(20);
}

Result<std::unique_ptr<Running>> serve(ServeOptions options) {
  const auto secret = options.journal.setting("secret", fresh_secret());
  if (!secret) return tl::unexpected(secret.error());
  const auto feed = options.journal.setting("feed", fresh_secret().substr(0, 32));
  if (!feed) return tl::unexpected(feed.error());
  auto served = std::make_unique<Served>();
  served->where = options.address == "localhost" ? "127.0.0.1" : options.address;
  Guard guard{{.secret = *secret, .address = served->where, .feed = *feed}};
  served->key = guard.key();
  served->app = std::make_unique<App>(App::Parts{.journal = options.journal,
                                                 .clock = options.clock ? options.clock : system_now,
                                                 .fresh_id = options.fresh_id ? options.fresh_id : random_id,
                                                 .zones = zone::load,
                                                 .local_zone = zone::local_name(),
                                                 .reference = reference::built_in(),
                                                 .paper = make_paper,
                                                 .pup_png = paper::pup_sheet_png,
                                                 .attachments = options.attachments,
                                                 .calendar = make_calendar,
                                                 .future = options.future,
                                                 .live = options.live},
                                      std::move(guard));
  auto listener = listen(
      options.address, options.port, [app = served->app.get()](const Request& r) { return app->handle(r); },
      options.limits, safe_headers());
  if (!listener) return tl::unexpected(listener.error());
  served->listener = std::move(*listener);
  return served;
}

}  // namespace lampside::server
