#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/belt_reading.hpp"
#include "mech/pitch.hpp"
#include "mech/spoke_pitch_reading.hpp"
#include "mech/wav.hpp"

// Tensions from the sound of a pluck, recorded.
namespace rollwright::aids {

namespace {

Row hertz_row(const char* name, Frequency pitch, std::string note = {}) {
  return row(name, {pitch.in(hertz), Dimension::kFrequency, "Hz", 1}, std::move(note));
}
std::string give_or_take(Frequency uncertainty) {
  return fmt::format("give or take {} Hz", rounded(uncertainty.in(hertz), 2));
}
std::string give_or_take(Force uncertainty) {
  return fmt::format("give or take {} N", rounded(uncertainty.in(newton), 0));
}

Error at_sound(Error error) {
  if (error.place.field.empty()) error.place.field = "sound";
  return error;
}

/// Errors: those of read_wav and pluck_pitch, at the field of the file.
Result<mech::PluckPitch> heard_in(const Given& given, const mech::PluckAsked& asked,
                                  Reckoned& reckoned) {
  if (!given.has("sound")) {
    return refuse(Code::kBadInput, "choose the recording: a WAV file", {.field = "sound"});
  }
  const auto sound = mech::read_wav(given.word("sound"), "the recording");
  if (!sound) return std::unexpected(at_sound(sound.error()));
  const auto pitch = mech::pluck_pitch(*sound, asked);
  if (!pitch) return std::unexpected(at_sound(pitch.error()));
  if (pitch->overdriven) {
    reckoned.cautions.push_back("The recording is overdriven: hold the microphone farther off.");
  }
  if (pitch->beside) {
    reckoned.cautions.push_back(fmt::format("A second string sounds at {} Hz: damp the spoke that "
                                            "crosses it.", rounded(pitch->beside->in(hertz), 1)));
  }
  reckoned.rows.push_back(hertz_row("Pitch", pitch->pitch, give_or_take(pitch->uncertainty)));
  if (!pitch->lowest_heard) {
    reckoned.rows.back().note += "; reckoned from its overtones";
  }
  return *pitch;
}

Result<Reckoned> spoke_sound(const Given& given) {
  mech::SpokeHeard heard{.spoke = {.length = given.amount("length", mm),
                                   .diameter = given.amount("diameter", mm)}};
  const auto range = mech::pluck_of_spoke(heard.spoke);
  if (!range) return std::unexpected(range.error());
  Reckoned reckoned;
  const auto pitch = heard_in(given, *range, reckoned);
  if (!pitch) return std::unexpected(pitch.error());
  heard.pitch = pitch->pitch;
  heard.pitch_uncertainty = pitch->uncertainty;
  mech::SpokeEndsFound ends;
  if (given.has("meter")) {
    const Force meter = given.amount("meter", newton);
    const auto found = mech::spoke_ends_from(heard, {meter, 0.05 * meter});
    if (!found) return std::unexpected(found.error());
    ends = *found;
    reckoned.rows.push_back({"Ends held, for the other spokes", rounded(100 * ends.held, 0) + " %",
                             "", "type it below when you go on without the meter"});
  } else if (given.has("held")) {
    ends.held = given.number("held") / 100;
    ends.held_uncertainty = 0.08;
  }
  const auto reading = mech::spoke_reading(heard, ends);
  if (!reading) return std::unexpected(reading.error());
  reckoned.rows.insert(reckoned.rows.begin(),
                       row("Tension", {reading->tension.in(newton), Dimension::kForce},
                           give_or_take(reading->uncertainty)));
  if (!given.has("meter") && !given.has("held")) {
    reckoned.cautions.push_back("How the ends are held is not known: one reading of a tension meter "
                                "on this wheel makes it surer.");
  }
  return reckoned;
}

Aid spoke_sound_aid() {
  return {.id = "spoke-sound", .title = "Spoke tension from a recording",
          .lead = "Record one pluck, read the tension.",
          .inputs = {file("sound", "Recording", "audio/wav", "a WAV file of one pluck, up to 30 s"),
                     amount("length", "Length that sounds", Dimension::kLength, "200 mm",
                            "crossing to nipple; of a butted spoke the thin middle"),
                     amount("diameter", "Diameter there", Dimension::kLength, "2 mm"),
                     amount("meter", "Meter's reading of this spoke", Dimension::kForce, "",
                            "may stay empty"),
                     plain_number("held", "Ends held, per cent", "",
                                  "as an earlier meter reading gave; may stay empty")},
          .method = "The lowest pitch of the pluck with its uncertainty, then a stiff wire between "
                    "pinned and held ends.",
          .source = "pluck-pitch, spoke-pitch",
          .caution = "A wheel is released by a person with a meter they trust; the rim maker's limit "
                     "comes first.",
          .reckon = spoke_sound};
}

Result<Reckoned> belt_sound(const Given& given) {
  Reckoned reckoned;
  const auto pitch = heard_in(given, mech::pluck_of_belt(), reckoned);
  if (!pitch) return std::unexpected(pitch.error());
  const auto mass = mech::belt_mass_per_metre(given.amount("weighed", kg), given.count("teeth"),
                                              given.amount("pitch", mm));
  if (!mass) return std::unexpected(mass.error());
  const auto reading = mech::belt_reading({.span = {*mass, given.amount("span", mm)},
                                           .pitch = pitch->pitch,
                                           .pitch_uncertainty = pitch->uncertainty});
  if (!reading) return std::unexpected(reading.error());
  reckoned.rows.insert(reckoned.rows.begin(),
                       row("Tension", {reading->tension.in(newton), Dimension::kForce},
                           give_or_take(reading->uncertainty)));
  reckoned.rows.push_back(row("Mass of the belt", {mass->in(kg_per_metre),
                                                   Dimension::kLineDensity, "kg/m", 4}));
  reckoned.cautions.push_back("Turn the cranks to four places and take the lowest.");
  return reckoned;
}

Aid belt_sound_aid() {
  return {.id = "belt-sound", .title = "Belt tension from a recording",
          .lead = "Record one pluck of the free span, read the tension.",
          .inputs = {file("sound", "Recording", "audio/wav", "a WAV file of one pluck, up to 30 s"),
                     amount("span", "Free span", Dimension::kLength, "430 mm",
                            "between the points where the belt leaves the sprockets"),
                     amount("weighed", "The belt weighs", Dimension::kMass, "91 g"),
                     count("teeth", "Its teeth", "118"),
                     amount("pitch", "Tooth pitch", Dimension::kLength, "11 mm")},
          .method = "The lowest pitch of the pluck, then 4 m s² f².",
          .source = "pluck-pitch, belt-tension",
          .caution = "The belt maker's own frequency or gauge comes first.",
          .reckon = belt_sound};
}

}  // namespace

std::vector<Aid> sound_aids() { return {spoke_sound_aid(), belt_sound_aid()}; }

}  // namespace rollwright::aids
