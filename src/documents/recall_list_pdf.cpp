#include "documents/recall_list_pdf.hpp"

#include <fmt/format.h>

#include "base/csv.hpp"
#include "documents/paper_rows.hpp"

namespace rollwright::documents {
namespace {

void print_recalled_bike(Paper& paper, const RecallList::Bike& bike) {
  paper.need(34);
  row(paper, {{0, 118, bike.rider, kBold},
              {122, 140, bike.part},
              {266, 110, bike.marks.empty() ? "number and lot not written down" : bike.marks,
               bike.marks.empty() ? kSmall : kText},
              {380, 46, bike.certainty, kBold},
              {430, Paper::kInside - 430, bike.status, kBold}});
  row(paper, {{0, 118, bike.contact.empty() ? "no contact written down" : bike.contact, kSmall},
              {122, 140, bike.bike, kSmall},
              {266, Paper::kInside - 266, bike.last, kSmall}});
  paper.rule(0.25);
  paper.down(4);
}

}  // namespace

std::string recall_list_pdf(const RecallList& list) {
  return printed(
      {.title = "Recall " + list.number,
       .foot = fmt::format("Recall {}, printed {}", list.number,
                           in_words(day_of(list.printed), true)),
       .made = list.printed},
      [&](Paper& paper) {
        head(paper, {.title = fmt::format("Recall {}{}", list.number,
                                          list.danger ? ": danger" : ""),
                     .lines = {list.part, list.opened},
                     .code = {},
                     .shop = list.shop,
                     .invented = list.invented});
        paper.paragraph("What is wrong: " + list.wrong, kBold);
        paper.paragraph("Remedy: " + (list.remedy.empty() ? "not known yet" : list.remedy), kText);
        paper.paragraph(list.progress, kText);
        if (list.danger) {
          paper.down(3);
          paper.paragraph(
              "Danger: each rider is told within one day, on three channels if need be, and each "
              "attempt is written down (common practice). Ask what the law wants reported, and to "
              "whom.",
              kBold);
        }
        heading(paper, "Riders");
        if (list.bikes.empty()) paper.paragraph("No bike has the part.", kText);
        for (const RecallList::Bike& bike : list.bikes) print_recalled_bike(paper, bike);
        if (list.stock.empty()) return;
        heading(paper, "In the shop");
        for (const std::string& sentence : list.stock) paper.paragraph(sentence, kText);
      });
}

std::string recall_list_csv(const RecallList& list) {
  std::string text = "customer,contact,bike,part,marks,certainty,status,last\r\n";
  for (const RecallList::Bike& bike : list.bikes) {
    const std::string* cells[] = {&bike.rider, &bike.contact,   &bike.bike,   &bike.part,
                                  &bike.marks, &bike.certainty, &bike.status, &bike.last};
    for (const std::string* cell : cells) {
      text += csv_cell(*cell);
      text += cell == &bike.last ? "\r\n" : ",";
    }
  }
  return text;
}

}  // namespace rollwright::documents
