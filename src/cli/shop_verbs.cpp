#include "cli/verbs.hpp"
#include "http/server.hpp"

namespace rollwright::cli {
namespace {

constexpr int kWeeksAhead = 6;

struct ImportWish {
  std::string path;
  bool dry_run = false;
};

int import_files(const ImportWish& wish, const Common& common, shop::Shop& shop) {
  const Result<shop::ImportReport> report = shop.import(wish.path, common.who, wish.dry_run);
  const int code = answer(common, report);
  return code == 0 && !report->problems.empty() ? row_of(Code::kBadInput).exit_code : code;
}

int verify(const std::string& printed, const Common& common, shop::Shop& shop) {
  const Result<shop::JournalReport> report = shop.verify(printed);
  const int code = answer(common, report);
  return code == 0 && !report->whole ? row_of(Code::kDamaged).exit_code : code;
}

int serve(const http::ServeOptions& wish, const Common& common, shop::Shop& shop) {
  const bool is_heard = !wish.is_https && !wish.address.starts_with("127.") && wish.address != "::1";
  const Result<void> served = http::serve(shop, wish, [is_heard](const std::string& url) {
    if (is_heard) {
      std::cerr << "rollwright: passwords cross this network as they are typed; put something that "
                   "speaks https in front (docs/operating.md) and say --https\n";
    }
    std::cout << "The pages are at " << url << "  (stop with Ctrl-C)" << std::endl;
  });
  return served ? 0 : fail(common, served.error());
}

}  // namespace

void add_shop_verbs(Verbs& verbs) {
  const auto files = std::make_shared<ImportWish>();
  auto* import = verbs.add("import", "read a shop's files into the book, all or nothing",
                           [files](const Common& common, shop::Shop& shop) {
                             return import_files(*files, common, shop);
                           });
  import->add_option("path", files->path, "a folder, or one file")->required();
  import->add_flag("--dry-run", files->dry_run, "judge the files, write nothing");
  verbs.add("today", "what needs a person now",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.today()); });
  const auto weeks = std::make_shared<int>(kWeeksAhead);
  verbs.add("load", "how full the weeks ahead are, by skill and person",
            [weeks](const Common& common, shop::Shop& shop) {
              return answer(common, shop.load(*weeks));
            })->add_option("--weeks", *weeks, "from the running one on, 1 to 52");
  verbs.add("minutes", "how long operations take, as stated and as learned from times taken",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.minutes()); });
  verbs.add("kept", "what was promised, with which odds, and what was kept",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.kept()); });
  const auto words = std::make_shared<std::string>();
  verbs.add("find", "orders, riders and parts by words",
            [words](const Common& common, shop::Shop& shop) {
              return answer(common, shop.find(*words));
            })->add_option("words", *words)->required();
  const auto printed = std::make_shared<std::string>();
  verbs.add("verify", "check the journal and the tables against it",
            [printed](const Common& common, shop::Shop& shop) {
              return verify(*printed, common, shop);
            })->add_option("--printed", *printed, "a hash from a print: does the journal go on from it?");
  const auto wish = std::make_shared<http::ServeOptions>();
  auto* pages = verbs.add("serve", "serve the pages", [wish](const Common& common, shop::Shop& shop) {
    return serve(*wish, common, shop);
  });
  pages->add_option("--port", wish->port, "0 takes a free one")->check(CLI::Range(0, 65535));
  pages->add_option("--address", wish->address, "address to listen on");
  pages->add_option("--name", wish->names, "name under which people reach it, as in shop.example");
  pages->add_flag("--https", wish->is_https, "people reach it over https only, by way of a proxy");
}

}  // namespace rollwright::cli
