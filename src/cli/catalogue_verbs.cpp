#include "cli/catalogue_verbs.hpp"

#include "cli/verbs.hpp"

namespace rollwright::cli {
namespace {

int propose(const CatalogueOptions& wish, const Common& common, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(wish);
  return given ? answer(common, shop.propose_mapping(*given)) : fail(common, given.error());
}

int preview(const CatalogueOptions& wish, const Common& common, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(wish);
  if (!given) return fail(common, given.error());
  const auto seen = shop.preview_catalogue(*given);
  if (!seen) return fail(common, seen.error());
  if (const auto ok = write_refused(wish, *seen); !ok) return fail(common, ok.error());
  const int code = answer(common, seen);
  return code == 0 && !is_clean(*seen) ? row_of(Code::kBadInput).exit_code : code;
}

int take_in(const CatalogueOptions& wish, const Common& common, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(wish);
  if (!given) return fail(common, given.error());
  const auto taken = shop.import_catalogue(
      *given, {.dry_run = wish.dry_run, .skip_bad_rows = wish.skip_bad_rows}, common.who);
  if (!taken) return fail(common, taken.error());
  if (const auto ok = write_refused(wish, taken->preview); !ok) return fail(common, ok.error());
  const int code = answer(common, taken);
  const bool wrong = !taken->taken && !is_clean(taken->preview) &&
                     !(wish.dry_run && wish.skip_bad_rows && taken->preview.problems.empty());
  return code == 0 && wrong ? row_of(Code::kBadInput).exit_code : code;
}

CLI::App* with_list(CLI::App* sub, CatalogueOptions& wish) {
  sub->add_option("file", wish.path, "the supplier's list, CSV")->required();
  sub->add_option("--supplier", wish.supplier, "whose list it is")->required();
  sub->add_option("--day", wish.day, "day of the list; today when left out");
  return sub;
}

CLI::App* with_mapping(CLI::App* sub, CatalogueOptions& wish) {
  with_list(sub, wish)->add_option("--mapping", wish.mapping,
                                   "how its columns are read; as saved or proposed when left out");
  sub->add_option("--take-over", wish.take_over,
                  "a measured fact that the list's word replaces, as in \"HB-0412 mass\"");
  sub->add_option("--refused", wish.refused, "write the refused rows to this file");
  return sub;
}

}  // namespace

void add_catalogue_verbs(Verbs& verbs) {
  const auto wish = std::make_shared<CatalogueOptions>();
  CLI::App& catalogue = *verbs.group("catalogue", "suppliers' lists: parts and offers");
  const auto verb = [&](const char* name, const char* help, auto run) {
    return verbs.add_to(catalogue, name, help, [wish, run](const Common& common, shop::Shop& shop) {
      return run(*wish, common, shop);
    });
  };
  with_list(verb("propose", "what the columns of a list seem to say, as a mapping file", propose),
            *wish);
  with_mapping(verb("preview", "what taking a list in would do", preview), *wish);
  auto* import =
      with_mapping(verb("import", "take a list in, all rows or none", take_in), *wish);
  import->add_flag("--dry-run", wish->dry_run, "judge the list, write nothing");
  import->add_flag("--skip-bad-rows", wish->skip_bad_rows,
                   "take the good rows without the others");
  const auto undo = [](const CatalogueOptions& asked, const Common& common, shop::Shop& shop) {
    return answer(common, shop.undo_import(asked.number, common.who));
  };
  verb("undo", "take a list back", undo)
      ->add_option("number", wish->number, "number of the list; the newest when left out");
  verbs.add_to(catalogue, "lists", "the lists that were taken in",
               [](const Common& common, shop::Shop& shop) {
                 return answer(common, shop.imports());
               });
}

}  // namespace rollwright::cli
