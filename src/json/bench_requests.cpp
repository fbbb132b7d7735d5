#include "json/bench_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::DeedsGiven> deeds_from(std::string_view text) {
  return read_object<shop::DeedsGiven>(text, [](Object& object, shop::DeedsGiven& given) {
    object.read("who", given.who);
    object.read("key", given.key, false);
    object.objects("deeds", given.deeds, [](Object& inner, shop::DeedGiven& deed) {
      inner.read("deed", deed.deed);
      inner.read("about", deed.about, false);
      inner.read("reading", deed.reading, false);
      inner.read("point", deed.point, false);
      inner.read("value", deed.value, false);
      inner.read("outcome", deed.outcome, false);
      inner.read("tool", deed.tool, false);
      inner.read("part", deed.part, false);
      inner.read("serial", deed.serial, false);
      inner.read("lot", deed.lot, false);
      inner.read("note", deed.note, false);
      inner.read("hand", deed.hand, false);
      inner.read("at", deed.at, false);
    });
  });
}

}  // namespace rollwright::json
