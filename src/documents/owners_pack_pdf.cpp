#include "documents/owners_pack_pdf.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "documents/paper_rows.hpp"
#include "trade/label_code.hpp"

namespace rollwright::documents {
namespace {

std::string or_missing(const std::string& text, const char* missing) {
  return text.empty() ? missing : text;
}

std::vector<std::string> not_read(const std::vector<OwnersPack::Value>& values) {
  std::vector<std::string> names;
  for (const OwnersPack::Value& value : values) {
    if (value.value.empty()) names.push_back(value.name);
  }
  return names;
}

void print_missing(Paper& paper, const OwnersPack& pack) {
  const std::vector<std::string> missing = missing_in(pack);
  if (missing.empty()) return;
  heading(paper, "Missing in this pack");
  for (const std::string& sentence : missing) {
    paper.need(14);
    paper.box(0, 8, 8);
    paper.paragraph(sentence, kText, 14);
    paper.down(2);
  }
}

void print_spec(Paper& paper, const OwnersPack& pack) {
  heading(paper, "Your bike");
  for (const OwnersPack::Part& part : pack.parts) {
    const bool missing = part.marks.empty() && part.has_number;
    row(paper, {{0, 110, part.place, kSmall},
                {114, 230, part.name},
                {350, Paper::kInside - 350, missing ? "number not written down" : part.marks,
                 missing ? kSmall : kBold}});
  }
}

void print_values(Paper& paper, const std::string& title,
                  const std::vector<OwnersPack::Value>& values) {
  heading(paper, title);
  for (const OwnersPack::Value& value : values) {
    if (value.value.empty()) continue;
    row(paper, {{0, 214, value.name},
                {218, 70, value.value, kBold},
                {292, 118, value.limit, kSmall},
                {414, Paper::kInside - 414, value.by, kSmall}});
  }
  const std::vector<std::string> open = not_read(values);
  if (!open.empty()) paper.paragraph("Not read: " + listed(open) + ".", kSmall);
  if (values.empty()) paper.paragraph("Nothing of this is on the bike's sheet.", kSmall);
}

void print_mass(Paper& paper, const OwnersPack& pack) {
  heading(paper, "Mass");
  row(paper, {{0, 214, "permitted total mass: bike, rider, luggage, passengers"},
              {218, Paper::kInside - 218,
               or_missing(pack.permitted_mass, "not known; ask the maker before loading the bike"),
               kBold}});
  row(paper, {{0, 214, "bike ready to ride, weighed"},
              {218, Paper::kInside - 218, or_missing(pack.bike_mass, "not weighed"), kBold}});
  row(paper, {{0, 214, "left for rider, luggage and passengers"},
              {218, Paper::kInside - 218,
               or_missing(pack.mass_left, "cannot be said without the two above"), kBold}});
}

void print_services(Paper& paper, const OwnersPack& pack) {
  heading(paper, "Service");
  row(paper, {{0, 214, "first service", kBold},
              {218, Paper::kInside - 218, pack.first_service, kBold}});
  for (const OwnersPack::Visit& visit : pack.visits) {
    row(paper, {{0, 90, visit.name, kBold},
                {94, 112, visit.when},
                {218, 200, visit.work},
                {422, Paper::kInside - 422, visit.source, kSmall}});
  }
  if (pack.halved) {
    paper.paragraph("Distances are halved: this bike carries cargo or children.", kText);
  }
  paper.paragraph("The book of a part's maker wins wherever it says something else.", kBold);
}

void print_talk(Paper& paper, const OwnersPack& pack) {
  heading(paper, "What we talked about at handover");
  for (const OwnersPack::Talk& talk : pack.talk) {
    const std::string& said = talk.said;
    row(paper, {{0, 26, talk.id, kSmall},
                {30, 330, talk.text},
                {366, Paper::kInside - 366, said.empty() ? "not ticked yet" : said, kSmall}});
  }
}

void print_signatures(Paper& paper, const OwnersPack& pack) {
  paper.need(190);
  heading(paper, "Received and understood");
  paper.paragraph(
      "A part may be called back by its maker. We then write to the contact below; please tell us "
      "when it changes, or when the bike has a new owner.",
      kText);
  paper.down(4);
  row(paper, {{0, 120, "your contact with us"},
              {124, Paper::kInside - 124, or_missing(pack.contact, "none is written down"), kBold}});
  row(paper, {{0, 120, "how you reach us"},
              {124, Paper::kInside - 124,
               pack.town.empty() ? pack.shop : pack.shop + ", " + pack.town, kBold}});
  paper.down(4);
  line_to_write_on(paper, 124, 250, "our telephone and address, written in by us");
  paper.down(44);
  line_to_write_on(paper, 0, 120, "day");
  line_to_write_on(paper, 130, 90, "distance on the display");
  line_to_write_on(paper, 230, Paper::kInside - 230, "rider: " + pack.rider);
  paper.down(44);
  line_to_write_on(paper, 0, 120, "keys and charger, counted");
  line_to_write_on(paper, 230, Paper::kInside - 230, "handed over by, for " + pack.shop);
  paper.down(40);
}

}  // namespace

std::vector<std::string> missing_in(const OwnersPack& pack) {
  std::vector<std::string> missing;
  std::vector<std::string> numbers;
  for (const OwnersPack::Part& part : pack.parts) {
    if (part.has_number && part.marks.empty()) numbers.push_back(part.place);
  }
  if (!numbers.empty()) missing.push_back("The numbers of: " + listed(numbers) + ".");
  if (const auto open = not_read(pack.settings); !open.empty()) {
    missing.push_back("Settings that were not read: " + listed(open) + ".");
  }
  if (const auto open = not_read(pack.torques); !open.empty()) {
    missing.push_back(fmt::format("{} torque{} not read; they are named further down.", open.size(),
                                  open.size() == 1 ? " was" : "s were"));
  }
  if (pack.permitted_mass.empty()) missing.push_back("The permitted total mass is not known.");
  if (pack.bike_mass.empty()) missing.push_back("The bike was not weighed.");
  if (pack.handed_over.empty()) missing.push_back("The day of handover is not written down.");
  if (pack.contact.empty()) missing.push_back("There is no contact for a recall.");
  return missing;
}

std::string owners_pack_pdf(const OwnersPack& pack) {
  return printed(
      {.title = "Owner's pack " + pack.order,
       .foot = fmt::format("Owner's pack {}, {}, printed {}", pack.order, pack.rider,
                           in_words(day_of(pack.printed), true)),
       .made = pack.printed},
      [&](Paper& paper) {
        head(paper, {.title = fmt::format("{}  {}", pack.order, pack.rider),
                     .lines = {"Owner's pack", pack.build,
                               pack.handed_over.empty() ? "" : "Handed over " + pack.handed_over},
                     .code = trade::write_label_code(
                         {.kind = trade::LabelKind::kOrder, .id = pack.order, .wheel = ""}),
                     .shop = pack.town.empty() ? pack.shop : pack.shop + ", " + pack.town,
                     .invented = pack.invented});
        print_missing(paper, pack);
        print_spec(paper, pack);
        print_values(paper, "Set for you", pack.settings);
        print_mass(paper, pack);
        print_values(paper, "Tightened to", pack.torques);
        print_services(paper, pack);
        print_talk(paper, pack);
        print_signatures(paper, pack);
      });
}

}  // namespace rollwright::documents
