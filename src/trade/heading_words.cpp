#include "trade/heading_words.hpp"

#include "base/text.hpp"
#include "units/unit_table.hpp"

namespace rollwright::trade {
namespace {

struct Fold {
  std::string_view from;
  std::string_view to;
};
constexpr Fold kFolds[] = {
    {"ä", "a"}, {"ö", "o"}, {"ü", "u"}, {"Ä", "a"}, {"Ö", "o"}, {"Ü", "u"}, {"ß", "ss"},
    {"é", "e"}, {"è", "e"}, {"ê", "e"}, {"É", "e"}, {"à", "a"}, {"á", "a"}, {"â", "a"},
    {"ç", "c"}, {"í", "i"}, {"ì", "i"}, {"ó", "o"}, {"ò", "o"}, {"ú", "u"}, {"ñ", "n"},
    {"°", " "}, {"º", " "},
};

std::string without_brackets(std::string_view text) {
  std::string bare;
  int depth = 0;
  for (const char c : text) {
    if (c == '(' || c == '[') ++depth;
    if (depth == 0) bare += c;
    if ((c == ')' || c == ']') && depth > 0) --depth;
  }
  return trim(bare).empty() ? std::string(text) : bare;
}

}  // namespace

std::string folded(std::string_view text) {
  std::string plain = without_brackets(text);
  for (const Fold& fold : kFolds) {
    for (std::size_t at; (at = plain.find(fold.from)) != std::string::npos;) {
      plain.replace(at, fold.from.size(), fold.to);
    }
  }
  std::string out;
  for (const char c : plain) {
    const char small = 'A' <= c && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    const bool keeps = ('a' <= small && small <= 'z') || ('0' <= small && small <= '9') ||
                       static_cast<unsigned char>(small) >= 0x80;
    if (keeps) {
      out += small;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  return std::string(trim(out));
}

std::string unit_in(std::string_view heading) {
  const std::size_t open = heading.find_last_of("([");
  const std::size_t close = heading.find_last_of(")]");
  if (open != std::string_view::npos && close != std::string_view::npos && open < close) {
    const std::string unit(trim(heading.substr(open + 1, close - open - 1)));
    return find_unit(unit) != nullptr ? unit : std::string();
  }
  const std::size_t space = heading.find_last_of(' ');
  if (space == std::string_view::npos) return {};
  const std::string last(heading.substr(space + 1));
  // One letter alone is more often an abbreviation than a unit.
  return last.size() > 1 && find_unit(last) != nullptr ? last : std::string();
}

const std::vector<HeadingWord>& heading_words() {
  static const std::vector<HeadingWord> kWords = {
      {"article", "article"},          {"article number", "article"},
      {"article no", "article"},       {"art", "article"},
      {"art no", "article"},           {"art nr", "article"},
      {"artnr", "article"},            {"artikel", "article"},
      {"artikelnummer", "article"},    {"artikelnr", "article"},
      {"artikel nr", "article"},       {"bestellnummer", "article"},
      {"best nr", "article"},          {"item", "article"},
      {"item number", "article"},      {"item no", "article"},
      {"item code", "article"},        {"code", "article"},
      {"sku", "article"},              {"part number", "article"},
      {"part no", "article"},          {"order number", "article"},
      {"order code", "article"},       {"reference", "article"},
      {"ref", "article"},              {"referencia", "article"},
      {"codice", "article"},           {"codice articolo", "article"},
      {"name", "name"},                {"description", "name"},
      {"product", "name"},             {"product name", "name"},
      {"title", "name"},               {"bezeichnung", "name"},
      {"artikelbezeichnung", "name"},  {"beschreibung", "name"},
      {"designation", "name"},         {"libelle", "name"},
      {"omschrijving", "name"},        {"descripcion", "name"},
      {"descrizione", "name"},         {"maker", "maker"},
      {"manufacturer", "maker"},       {"brand", "maker"},
      {"make", "maker"},               {"marke", "maker"},
      {"hersteller", "maker"},         {"fabricant", "maker"},
      {"marque", "maker"},             {"merk", "maker"},
      {"marca", "maker"},              {"kind", "kind"},
      {"category", "kind"},            {"group", "kind"},
      {"product group", "kind"},       {"type of part", "kind"},
      {"warengruppe", "kind"},         {"kategorie", "kind"},
      {"gruppe", "kind"},              {"categorie", "kind"},
      {"famille", "kind"},             {"productgroep", "kind"},
      {"categoria", "kind"},           {"cost", "cost price"},
      {"cost price", "cost price"},    {"net", "cost price"},
      {"net price", "cost price"},     {"dealer price", "cost price"},
      {"trade price", "cost price"},   {"purchase price", "cost price"},
      {"wholesale price", "cost price"},{"your price", "cost price"},
      {"price net", "cost price"},     {"ek", "cost price"},
      {"ek netto", "cost price"},      {"ek preis", "cost price"},
      {"einkaufspreis", "cost price"}, {"handlerpreis", "cost price"},
      {"nettopreis", "cost price"},    {"prix net", "cost price"},
      {"prix achat", "cost price"},    {"prix d achat", "cost price"},
      {"inkoopprijs", "cost price"},   {"precio neto", "cost price"},
      {"prezzo netto", "cost price"},  {"retail", "customer price"},
      {"retail price", "customer price"},{"rrp", "customer price"},
      {"srp", "customer price"},       {"msrp", "customer price"},
      {"list price", "customer price"},{"recommended price", "customer price"},
      {"customer price", "customer price"},{"price", "customer price"},
      {"uvp", "customer price"},       {"vk", "customer price"},
      {"vk brutto", "customer price"}, {"vk preis", "customer price"},
      {"verkaufspreis", "customer price"},{"endpreis", "customer price"},
      {"prix public", "customer price"},{"adviesprijs", "customer price"},
      {"verkoopprijs", "customer price"},{"pvp", "customer price"},
      {"prezzo al pubblico", "customer price"},{"pack", "pack"},
      {"pack size", "pack"},           {"packing unit", "pack"},
      {"pack unit", "pack"},           {"pcs per pack", "pack"},
      {"unit of sale", "pack"},        {"ve", "pack"},
      {"vpe", "pack"},                 {"verpackungseinheit", "pack"},
      {"conditionnement", "pack"},     {"verpakking", "pack"},
      {"availability", "availability"},{"stock", "availability"},
      {"available", "availability"},   {"delivery", "availability"},
      {"verfugbarkeit", "availability"},{"lieferbar", "availability"},
      {"lagerstatus", "availability"}, {"disponibilite", "availability"},
      {"beschikbaarheid", "availability"},{"disponibilidad", "availability"},
      {"disponibilita", "availability"},{"weight", "mass"},
      {"gewicht", "mass"},             {"poids", "mass"},
      {"peso", "mass"},                {"masse", "mass"},
      {"width", "tyre_width"},         {"section width", "tyre_width"},
      {"reifenbreite", "tyre_width"},  {"breite", "tyre_width"},
      {"largeur", "tyre_width"},       {"breedte", "tyre_width"},
      {"bsd", "bead_seat_diameter"},   {"bead seat", "bead_seat_diameter"},
      {"felgendurchmesser", "bead_seat_diameter"},
      {"max pressure", "pressure_max"},{"druck max", "pressure_max"},
      {"pression max", "pressure_max"},{"min pressure", "pressure_min"},
      {"druck min", "pressure_min"},   {"max load", "tyre_load"},
      {"traglast", "tyre_load"},       {"load", "tyre_load"},
      {"hookless", "hookless_released"},{"laufrichtung", "tyre_directional"},
      {"directional", "tyre_directional"},{"material", "material"},
      {"size", "size"},                {"grosse", "size"},
      {"taille", "size"},
  };
  return kWords;
}

const std::vector<HeadingWord>& value_words() {
  static const std::vector<HeadingWord> kWords = {
      {"yes", "yes"},       {"y", "yes"},          {"ja", "yes"},        {"j", "yes"},
      {"oui", "yes"},       {"o", "yes"},          {"si", "yes"},        {"x", "yes"},
      {"true", "yes"},      {"1", "yes"},          {"no", "no"},         {"n", "no"},
      {"nein", "no"},       {"nee", "no"},         {"non", "no"},        {"false", "no"},
      {"0", "no"},          {"stocked", "stocked"}, {"in stock", "stocked"},
      {"stock", "stocked"}, {"available", "stocked"}, {"lagernd", "stocked"},
      {"ab lager", "stocked"}, {"sofort", "stocked"}, {"lieferbar", "stocked"},
      {"en stock", "stocked"}, {"op voorraad", "stocked"}, {"importer", "importer"},
      {"to order", "importer"}, {"on order", "importer"}, {"bestellware", "importer"},
      {"auf bestellung", "importer"}, {"sur commande", "importer"}, {"made", "made"},
      {"made to order", "made"}, {"auf anfrage gefertigt", "made"}, {"sonderanfertigung", "made"},
      {"sur mesure", "made"},
  };
  return kWords;
}

}  // namespace rollwright::trade
