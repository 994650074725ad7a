// Nest: the room sensors, what each read last, and how to add one.
#include "page/nest.hpp"
#include "record/names.hpp"

namespace lampside::page {
namespace {

using record::AirPlace;

const record::Noted<record::Air>* last_of(const View& view, const std::string& topic) {
  const record::Noted<record::Air>* last = nullptr;
  for (const auto& a : view.litter.air)
    if (a.what.sensor == topic && a.at <= view.now) last = &a;
  return last;
}

Html sensor_line(const View& view, const record::Sensor& s) {
  const auto* last = last_of(view, s.topic);
  const auto unit = view.litter.units().temperature;
  return element("b", {}, text(sentence(words_for(s.where)) + ": ")) +
         (last ? text(say(last->what.celsius, unit) + ", ") + time_and_ago(view, last->at)
               : text("nothing has come yet")) +
         span("hint", text(" " + s.topic + (s.field ? ", its \"" + *s.field + "\"" : "")));
}

Html sensor_form(const View& view) {
  Form form{view, "sensor", "sensor", "", "nest#sensors"};
  std::vector<Option> places;
  for (const auto& [place, name] : record::names<AirPlace>)
    places.push_back({std::string(name), sentence(words_for(place))});
  const Html fields =
      form.field("topic", "Topic it publishes on",
                 {.hint = "As in its own settings, e.g. house/box/lamp-end", .required = true}) +
      form.choice("where", "It lies", places, "", true) +
      form.field("field", "Field with the temperature",
                 {.hint = "If it publishes JSON, e.g. temperature. Empty: it publishes a plain number."}) +
      form.choice("unit", "It sends", {{"C", "°C"}, {"F", "°F"}}, "C") + Form::submit("Listen to it");
  return fold_away(text("Add a room sensor, or change one"),
                   p("hint", text("Start Lampside with --sensors and your MQTT broker's address. A change takes the "
                                  "same topic again.")) +
                       form.finish(fields, "stack"),
                   form.refused(), "panel", "sensor-form");
}

}  // namespace

Html sensors_section(const View& view) {
  Html lines, taps;
  for (const auto& s : view.litter.sensors) {
    if (s.what.off.value_or(false)) continue;
    lines += element("li", {}, sensor_line(view, s.what));
    std::vector<std::pair<std::string, std::string>> off{
        {"topic", s.what.topic}, {"where", std::string(record::name_of(s.what.where))}, {"off", "true"}};
    if (s.what.field) off.emplace_back("field", *s.what.field);
    taps += one_tap(view, "off-" + s.what.topic, "sensor", "", "nest#sensors", off,
                    text("Stop listening to " + s.what.topic), "button quiet");
  }
  Html out = h2(text("Room sensors"), "sensors");
  if (!lines.empty())
    out += live("sensors", element("ul", {}, lines)) + fold_away(text("Stop listening to one"), taps, false, "small");
  return out + sensor_form(view);
}

}  // namespace lampside::page
