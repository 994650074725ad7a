#include "growth/alarm.hpp"

namespace lampside::growth {

Alarm alarm_of(const PaceModel& model, const Tracker& tracker, std::size_t pup) {
  if (tracker.readings(pup) < 2) return Alarm::none;
  const double slow = tracker.now(pup).chance_slow;
  return slow >= model.act_from ? Alarm::act : slow >= model.watch_from ? Alarm::watch : Alarm::none;
}

}  // namespace lampside::growth
