// The door for the command line: one call that serves a journal until the answer is destroyed.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "server/book.hpp"
#include "server/http.hpp"
#include "store/attachments.hpp"
#include "store/journal.hpp"

namespace lampside::server {

struct ServeOptions {
  std::string address = "127.0.0.1";        ///< "0.0.0.0" for the phones in the house
  int port = 0;                             ///< 0: any free one
  std::function<Instant()> clock;           ///< empty: the system's
  store::Journal& journal;                  ///< must outlive what serve() gives
  std::function<std::string()> fresh_id{};  ///< empty: random UUIDs
  Future future = Future::all;              ///< `known` when the clock stands on an earlier day of a journal
  Limits limits{};
  store::Attachments attachments{};  ///< where pictures are kept; by default nowhere
  LiveFindings live{};               ///< empty: none
};

/// A Lampside being served. Destroying it stops it; requests under way get their answer.
class Running {
 public:
  virtual ~Running() = default;
  [[nodiscard]] virtual int port() const = 0;
  [[nodiscard]] virtual std::string address() const = 0;  ///< "127.0.0.1:8080"
  /// What to open: on this machine, or the first address of the house network with its key.
  [[nodiscard]] virtual std::string url() const = 0;
  /// All of them; more than one when the machine is in several networks.
  [[nodiscard]] virtual std::vector<std::string> urls() const = 0;
  /// url() as a QR code for a terminal.
  [[nodiscard]] virtual std::string qr() const = 0;
};

/// Errors: LISTEN_ADDRESS, LISTEN_BUSY, LISTEN_FAILED, STORE_*.
Result<std::unique_ptr<Running>> serve(ServeOptions options);

/// What to open when `address` and `port` are listened on: for "0.0.0.0" one for each address of this machine.
std::vector<std::string> served_urls(const std::string& address, int port, const std::string& key);

/// A random UUID, version 4.
std::string random_id();

/// Ink: `plain` for a dark terminal (light squares are drawn), `colours` sets black and white itself.
enum class Ink { plain, colours };
/// A QR code in half-block characters, two rows of squares a line, with its quiet margin of four.
std::string text_qr(const std::string& text, Ink ink);

}  // namespace lampside::server
