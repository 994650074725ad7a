// A plain HTTP client for the tests: a raw socket, so that a test may also send what no browser would.
#pragma once

#include <chrono>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace lampside::server::test {

struct Answer {
  int status = 0;                                   ///< 0: the server closed without an answer
  std::multimap<std::string, std::string> headers;  ///< names in lower case
  std::string body;
  [[nodiscard]] std::string header(const std::string& name) const;
};

/// One TCP connection to 127.0.0.1.
class Connection {
 public:
  explicit Connection(int port);
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;
  ~Connection();
  void send(std::string_view bytes) const;  ///< stops early, silently, when the other side has closed
  /// What arrives within `patience`, up to `until` being in it or the end.
  std::string receive(std::chrono::milliseconds patience, std::string_view until = {});
  /// One whole answer (Content-Length or chunked); status 0 when the connection ends first.
  Answer answer(bool head = false, std::chrono::milliseconds patience = std::chrono::seconds{5});
  [[nodiscard]] bool ended() const { return ended_; }

 private:
  int fd_;
  std::string buffer_;
  bool ended_ = false;
};

using Fields = std::vector<std::pair<std::string, std::string>>;
std::string encode(const Fields& fields);

/// One request on its own connection. `headers` end with \r\n each and replace Host when they name it.
Answer get(int port, const std::string& target, const std::string& headers = {});
Answer post(int port, const std::string& target, const Fields& fields, const std::string& headers = {});
Answer ask(int port, const std::string& method, const std::string& target, const std::string& headers = {},
           const std::string& body = {});

}  // namespace lampside::server::test
