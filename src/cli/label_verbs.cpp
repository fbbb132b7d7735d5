#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "cli/verbs.hpp"

namespace rollwright::cli {
namespace {

struct LabelOptions {
  shop::LabelWish labels;
  std::string pdf;
};

/// `rollwright labels`: tells which labels these are, or writes them as a PDF.
int print_labels(const LabelOptions& options, const Common& common, shop::Shop& shop) {
  if (options.pdf.empty()) return answer(common, shop.labels(options.labels));
  const Result<std::string> pdf = shop.labels_pdf(options.labels);
  if (!pdf) return fail(common, pdf.error());
  if (Result<void> ok = write_file(options.pdf, *pdf); !ok) return fail(common, ok.error());
  if (common.json) return answer(common, shop.labels(options.labels));
  std::cout << "Written to " << options.pdf << "; print it at full size.\n";
  return 0;
}

}  // namespace

std::string as_text(const shop::LabelsView& view) {
  using enum Columns::Side;
  std::string text = view.sentence + "\n";
  if (view.labels.empty()) {
    Columns sheets({kLeft, kLeft});
    for (const shop::LabelSheetView& sheet : view.sheets) sheets.row({"  " + sheet.id, sheet.name});
    return text + sheets.text();
  }
  Columns columns({kLeft, kLeft, kLeft, kLeft, kLeft});
  for (const shop::LabelView& label : view.labels) {
    columns.row({fmt::format("  {}.{}", label.page, label.position), label.what, label.number,
                 label.code, join(label.lines, "; ") + (label.is_whole ? "" : " (shortened)")});
  }
  return text + columns.text();
}

void add_label_verbs(Verbs& verbs) {
  const auto options = std::make_shared<LabelOptions>();
  auto* labels = verbs.add("labels", "labels with QR codes for orders, kits, wheels, bins ...",
                           [options](const Common& common, shop::Shop& shop) {
                             return print_labels(*options, common, shop);
                           });
  shop::LabelWish& asked = options->labels;
  const auto list = [labels](const char* name, std::vector<std::string>& into, const char* help) {
    labels->add_option(name, into, help)->delimiter(',');
  };
  list("--kinds", asked.kinds, "order, kit, wheel, bin, person, tool; left out: whatever is named");
  list("--orders", asked.orders, "numbers of orders, as in 2041,2042");
  list("--parts", asked.parts, "numbers of parts; left out with kind bin: all on the shelf");
  list("--people", asked.people, "left out with kind person: everybody");
  list("--tools", asked.tools, "left out with kind tool: every tool");
  labels->add_option("--sheet", asked.sheet, "A4 sheet or roll, as in a4-3x8 or roll-57x32");
  labels->add_option("--from", asked.from, "first free position of a half-used sheet, from 1");
  labels->add_flag("--rider", asked.rider, "with the rider's first name and initial");
  labels->add_option("--pdf", options->pdf, "write them as a PDF to this file");
}

}  // namespace rollwright::cli
