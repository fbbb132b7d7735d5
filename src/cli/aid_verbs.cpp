#include "aids/aids.hpp"
#include "base/text.hpp"
#include "cli/verbs.hpp"
#include "http/order_aid.hpp"
#include "http/order_does.hpp"

namespace rollwright::cli {
namespace {

struct AidWish {
  std::string aid;
  std::vector<std::string> fields;  // "front=44"
  std::string order;
  std::string end;
  bool about = false;
};

/// "front=44" and the like.
Result<aids::Typed> typed_fields(const AidWish& wish) {
  aids::Typed typed;
  for (const std::string& field : wish.fields) {
    const std::size_t equals = field.find('=');
    if (equals == std::string::npos) {
      return refuse(Code::kBadInput, "a field is given as name=value, as in front=44",
                    {.value = field});
    }
    typed[field.substr(0, equals)] = field.substr(equals + 1);
  }
  return typed;
}

void print_caution(const Common& common, const aids::Aid& aid) {
  if (!common.json && !aid.caution.empty()) std::cout << "Caution: " << aid.caution << "\n";
}

/// `rollwright reckon AID --order ORDER`: the fields come from the order.
int reckon_for_order(const AidWish& wish, const Common& common, shop::Shop& shop) {
  const Result<aids::Typed> typed = typed_fields(wish);
  if (!typed) return fail(common, typed.error());
  const auto filled = http::order_aid(
      shop, {.order = wish.order, .aid = wish.aid, .end = wish.end, .typed = *typed});
  const auto aid = aids::aid_called(wish.aid);
  if (filled && aid) print_caution(common, **aid);
  const int code = answer(common, filled);
  return code == 0 && filled->refusal ? row_of(filled->refusal->code).exit_code : code;
}

/// `rollwright reckon`: needs no book.
int reckon(const AidWish& wish, const Common& common) {
  if (wish.aid.empty()) {
    std::cout << (common.json ? json::text_of(aids::all_aids()) + "\n" : as_text(aids::all_aids()));
    return 0;
  }
  const auto aid = aids::aid_called(wish.aid);
  if (!aid) return fail(common, aid.error());
  if (wish.about) {
    std::cout << (common.json ? json::text_of(std::vector{**aid}) + "\n" : about(**aid));
    return 0;
  }
  Result<aids::Typed> given = typed_fields(wish);
  if (!given) return fail(common, given.error());
  aids::Typed& typed = *given;
  const aids::Input* file = aids::file_field(**aid);
  if (file != nullptr && typed.contains(file->key)) {
    Result<std::string> content = read_file(typed[file->key]);
    if (!content) return fail(common, content.error());
    typed[file->key] = std::move(*content);
  }
  const Result<aids::Reckoned> reckoned = aids::reckon(wish.aid, typed);
  if (reckoned) print_caution(common, **aid);
  return answer(common, reckoned);
}

void add_reckon(Verbs& verbs) {
  const auto wish = std::make_shared<AidWish>();
  auto* aid = verbs.add_bookless("reckon", "bench aids: spokes, gears, belts, tyres, torque, fit",
                                 [wish](const Common& common) { return reckon(*wish, common); });
  aid->add_option("aid", wish->aid, "as in gears; left out: lists them");
  aid->add_option("fields", wish->fields,
                  "name=value, as in front=44 or \"crank=170 mm\"; of a file its path");
  aid->add_option("--order", wish->order, "fill the fields from this order");
  aid->add_option("--end", wish->end, "with an order: which of its ends, front or rear");
  aid->add_flag("--about", wish->about, "its fields, method and sources");
  aid->callback([&verbs, wish] {
    if (wish->order.empty()) {
      verbs.said_bookless = [wish](const Common& common) { return reckon(*wish, common); };
    } else {
      verbs.said = [wish](const Common& common, shop::Shop& shop) {
        return reckon_for_order(*wish, common, shop);
      };
    }
  });
}

}  // namespace

void add_aid_verbs(Verbs& verbs) {
  add_reckon(verbs);
  const auto wish = std::make_shared<AidWish>(AidWish{.aid = "wheel-card", .fields = {}});
  auto* card = verbs.add("wheel-card", "one wheel of an order before it is built",
                         [wish](const Common& common, shop::Shop& shop) {
                           return reckon_for_order(*wish, common, shop);
                         });
  card->add_option("order", wish->order, "number of the order")->required();
  card->add_option("end", wish->end, "front or rear")
      ->required()
      ->check(CLI::IsMember({"front", "rear"}));
  const auto id = std::make_shared<std::string>();
  verbs.add("does", "what an order's bike does: gears, hills, stopping, heat, tyres",
            [id](const Common& common, shop::Shop& shop) {
              return answer(common, http::order_does(shop, *id));
            })->add_option("order", *id, "number of the order")->required();
}

}  // namespace rollwright::cli
