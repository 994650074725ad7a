// Listening to room sensors over MQTT until destroyed.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"
#include "store/journal.hpp"

namespace lampside::sensor {

inline constexpr int kPlainPort = 1883, kTlsPort = 8883;  ///< as registered for MQTT

struct Broker {
  std::string host;
  int port = kPlainPort;
  std::string user{};  ///< empty: nobody is named
  std::optional<std::string> password{};
  std::string ca_file{};  ///< PEM; given, the connection is encrypted and the broker must show a certificate of it
};
/// "HOST", "HOST:PORT", "[::1]:PORT". Errors: SENSORS_ADDRESS.
Result<Broker> parse_broker(const std::string& text, int usual_port = kPlainPort);
/// The first line of a file that only its owner can read: a password on a command line is seen by everybody on the
/// machine. Errors: SENSORS_PASSWORD.
Result<std::string> read_password(const std::string& path);

struct ListenOptions {
  Broker broker;
  store::Journal& journal;  ///< must outlive the listener
  std::function<Instant()> clock;
  std::function<std::string()> fresh_id;  ///< asked on the listener's thread
  const reference::Reference& reference;
  std::function<void(const std::string&)> say{};  ///< one line when the broker is found or lost; may be empty
};

struct Heard {
  std::uint64_t messages = 0;  ///< received, usable or not
  std::uint64_t kept = 0;      ///< in the journal
  std::uint64_t waiting = 0;   ///< to be kept, while the journal cannot take them
  bool connected = false;
};

/// Which topics are listened to stands in the journal (kind `sensor`); it is looked at again as it grows. A reading
/// counts from when it came; what is sent while nobody listens is not asked for afterwards. While the broker is away it
/// is tried again; what came and the journal cannot take waits here.
class Listener {
 public:
  virtual ~Listener() = default;
  [[nodiscard]] virtual Heard heard() const = 0;
  /// What is wrong right now (nest::SensorDesk::findings).
  [[nodiscard]] virtual std::vector<reference::Finding> findings(const record::Litter& litter, Instant now) const = 0;
};

/// Does not wait for the broker: one that is away is told of by findings(). Errors: SENSORS_FAILED,
/// SENSORS_USER, SENSORS_CA.
Result<std::unique_ptr<Listener>> listen(ListenOptions options);

}  // namespace lampside::sensor
