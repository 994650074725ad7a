// Room sensors: what a message says, what of it the journal keeps, and what is wrong with a sensor.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"
#include "nest/nest.hpp"

namespace lampside::nest {

/// What one message says. `said`: the moment by the sensor's own clock, where it sends one ("time", "timestamp" or
/// "ts": ISO 8601 with an offset, or seconds or milliseconds since 1970). It is never taken for when it was.
struct SensorMessage {
  Celsius celsius;
  std::optional<Instant> said;
};
/// A plain number, or the `field` of a JSON object ("temperature", "air.temperature"), in the sensor's unit.
/// Errors: SENSOR_NOT_JSON, SENSOR_NO_FIELD, SENSOR_NOT_NUMBER, SENSOR_IMPOSSIBLE (no air is as cold or hot as that:
/// the value of a broken probe), SENSOR_TOO_LONG.
Result<SensorMessage> read_message(const record::Sensor& sensor, std::string_view payload,
                                   const reference::Reference& reference);

enum class BandSide { below, within, above };
/// Out at once on leaving the band; in again only when inside by half a degree (a quarter of a narrow band), so that a
/// reading that trembles at the limit rings once.
BandSide side_of(Celsius reading, const BoxTarget& band, BandSide before, const reference::Reference& reference);

/// Which of a sensor's readings the journal keeps (docs/decisions/0017-thinning.md).
class Thinner {
 public:
  /// `band`: null where there is none to leave. `at` never runs backward.
  bool keep(Celsius reading, Instant at, const BoxTarget* band, const reference::Reference& reference);

 private:
  struct Kept {
    Celsius celsius;
    Instant at;
  };
  std::optional<Kept> last_;
  BandSide side_ = BandSide::within;  ///< as the journal has it
  std::optional<Instant> other_since_;
};

/// The sensors of one litter while they are listened to.
class SensorDesk {
 public:
  explicit SensorDesk(const reference::Reference& reference) : reference_{reference} {}

  /// Takes over which sensors there are and what the box should be; call it again when either may have changed.
  void know(const record::Litter& litter, Instant now);

  /// What the journal should keep of a message that came at `now`, if anything. A retained message may be days old and
  /// is no reading.
  std::optional<record::Air> take(const std::string& topic, std::string_view payload, bool retained, Instant now);

  /// The broker cannot be reached since then, and why; nothing: it can.
  void broker(std::optional<Instant> lost, std::string why);

  /// Broker away, messages that cannot be used, a sensor's clock that is wrong.
  [[nodiscard]] std::vector<reference::Finding> findings(const record::Litter& litter, Instant now) const;
  [[nodiscard]] std::vector<std::string> topics() const;  ///< those listened to

 private:
  struct Watched {
    record::Sensor sensor;
    Thinner thinner{};
    std::optional<Problem> trouble{};  ///< of the last message that could not be used
    Instant trouble_at{};
    int troubles = 0;  ///< in a row
    std::optional<Instant> said{};
    Instant heard{};  ///< when the message with `said` came
  };
  const reference::Reference& reference_;
  std::map<std::string, Watched, std::less<>> watched_;
  std::optional<BoxTarget> band_;
  std::optional<Instant> lost_;
  std::string lost_why_;
};

/// By the journal alone: a sensor from which nothing has come for long, or always the same.
std::vector<reference::Finding> sensor_findings(const record::Litter& litter, const reference::Reference& reference,
                                                Instant now);

}  // namespace lampside::nest
