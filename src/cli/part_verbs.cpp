#include "cli/verbs.hpp"

namespace rollwright::cli {
namespace {

struct FactWish {
  std::string part;
  std::string attribute;
  std::string read_in;
  std::string day;
  shop::FactGiven fact;
};

/// `rollwright measure-fact`: measured, unless it says in which document it was read.
int measure_fact(const FactWish& wish, const Common& common, shop::Shop& shop) {
  shop::FactGiven given = wish.fact;
  if (!wish.read_in.empty()) {
    if (!given.by.empty() || !given.source.empty()) {
      return fail(common, {Code::kContradiction,
                           "a fact is either measured (--by, --source) or read in a document "
                           "(--read-in, --day)",
                           {.field = "--read-in", .value = wish.read_in}});
    }
    given.standing = "known";
    given.source = wish.read_in;
  }
  if (!wish.day.empty()) {
    const Result<Day> day = parse_day(wish.day);
    if (!day) {
      return fail(common, {day.error().code, day.error().sentence,
                           {.field = "--day", .value = wish.day}});
    }
    given.day = *day;
  }
  return answer(common, shop.measure_fact(wish.part, wish.attribute, given, common.who));
}

}  // namespace

void add_part_verbs(Verbs& verbs) {
  verbs.add("parts", "the catalogue",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.parts()); });
  const auto id = std::make_shared<std::string>();
  verbs.add("part", "one part with its facts", [id](const Common& common, shop::Shop& shop) {
    return answer(common, shop.part(*id));
  })->add_option("part", *id, "number of the part")->required();
  verbs.add("not-known", "facts that open orders wait for, the dearest first",
            [](const Common& common, shop::Shop& shop) {
              return answer(common, shop.not_known_facts());
            });
  const auto wish = std::make_shared<FactWish>();
  auto* fact = verbs.add("measure-fact", "put a fact of a part into the catalogue",
                         [wish](const Common& common, shop::Shop& shop) {
                           return measure_fact(*wish, common, shop);
                         });
  fact->add_option("part", wish->part, "number of the part")->required();
  fact->add_option("attribute", wish->attribute, "as in tyre_width")->required();
  fact->add_option("value", wish->fact.value, "with its unit, as in \"31.8 mm\" or \"1.25 in\"")
      ->required();
  fact->add_option("--by", wish->fact.by, "who measured");
  fact->add_option("--source", wish->fact.source, "with what it was measured");
  fact->add_option("--read-in", wish->read_in, "the document it was read in, instead of measuring");
  fact->add_option("--day", wish->day, "of measuring (today when left out) or of the document");
}

}  // namespace rollwright::cli
