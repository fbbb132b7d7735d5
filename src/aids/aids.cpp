#include "aids/aids.hpp"

#include <algorithm>
#include <iterator>

#include "base/text.hpp"

namespace rollwright::aids {

const std::vector<Aid>& all_aids() {
  static const std::vector<Aid> kAids = [] {
    std::vector<Aid> all;
    for (auto* some : {wheel_aids, wheel_card_aids, truing_aids, sound_aids, rim_aids, drivetrain_aids,
                       tyre_aids, joint_aids, brake_aids, rider_aids, ride_aids}) {
      std::ranges::move(some(), std::back_inserter(all));
    }
    return all;
  }();
  return kAids;
}

Result<const Aid*> aid_called(const std::string& id) {
  std::vector<std::string> ids;
  for (const Aid& aid : all_aids()) {
    if (aid.id == id) return &aid;
    ids.push_back(aid.id);
  }
  const auto near = nearest(id, ids);
  return refuse(Code::kNotFound,
                "there is no such bench aid" + (near ? ": is " + *near + " meant?" : "") +
                    "; there are " + listed(ids),
                {.field = "aid", .value = id});
}

const Input* file_field(const Aid& aid) {
  const auto found = std::ranges::find(aid.inputs, InputKind::kFile, &Input::kind);
  return found == aid.inputs.end() ? nullptr : &*found;
}

Result<Reckoned> reckon(const std::string& id, const Typed& typed) {
  const auto aid = aid_called(id);
  if (!aid) return std::unexpected(aid.error());
  const auto given = Given::read(**aid, typed);
  if (!given) return std::unexpected(given.error());
  return (*aid)->reckon(*given);
}

}  // namespace rollwright::aids
