#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "viz/drawing/diagram.h"
#include "viz/pictures/head_and_foot.h"
#include "viz/pictures/over_time.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

struct Group {
  const char* name;
  Colour colour;
};

constexpr Group groups[] = {{"Heats the spots", palette::vermillion},
                            {"Flies off as sparks", palette::purple},
                            {"Lost on the way", palette::blue},
                            {"Stays in the source", palette::quiet_ink}};
constexpr std::size_t stays = 3;

// Which group a line of the ledger belongs to; the parts of the spot fall to the first.
std::size_t group_of(const std::string& key) {
  if (key == "ledger_expelled") return 1;
  if (key == "ledger_left_in_source") return stays;
  for (const char* way : {"source_resistance", "leads", "joints", "power_switch", "switch_off",
                          "tip_lift", "left_in_inductance"})
    if (key == std::string("ledger_") + way) return 2;
  return 0;
}

struct Item {
  std::string name;
  double energy = 0;  // [J]
  std::size_t group = 0;
  Box bar{};
};

constexpr double smallest_slot = 25, group_gap = 26, item_gap = 3;

// Sinks worth a line; what is left out is less than 1/10000 of the whole each.
std::vector<Item> items_of(const StoredRun& run) {
  std::vector<Item> items;
  double total = 0;
  for (const auto& [key, energy] : run.scalars) {
    const bool sink = key.starts_with("ledger_") && key != "ledger_from_source" &&
                      key != "ledger_stored_before" && key != "ledger_residual";
    if (!sink || !std::isfinite(energy)) continue;
    const auto words = run.words.find(key);
    std::string name = words == run.words.end() ? key.substr(7) : words->second;
    name = name.substr(0, name.find(" ("));  // explanations are left to the report
    items.push_back({std::move(name), energy, group_of(key)});
    total += energy;
  }
  // Within a group the largest first.
  std::stable_sort(items.begin(), items.end(), [](const Item& a, const Item& b) {
    return a.group != b.group ? a.group < b.group : a.energy > b.energy;
  });
  std::erase_if(items, [total](const Item& item) { return !(item.energy > 1e-4 * total); });
  return items;
}

double room_needed(const std::vector<Item>& items, double scale) {
  double room = 0;
  for (std::size_t n = 0; n < items.size(); ++n) {
    room += std::max(scale * items[n].energy, smallest_slot) + item_gap;
    room += n > 0 && items[n].group != items[n - 1].group ? group_gap : 0;
  }
  return room;
}

// Page units per joule at which all slots fill the height.
double scale_for(const std::vector<Item>& items, double total, double height) {
  double low = 0, high = height / total;
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (room_needed(items, middle) > height ? high : low) = middle;
  }
  return low;
}

// A smooth band from the left bar to one on the right.
void draw_flow(Page& page, Point from, Point to, double thickness, const Colour& colour) {
  Polyline lower, upper;
  constexpr int steps = 48;
  for (int k = 0; k <= steps; ++k) {
    const double t = static_cast<double>(k) / steps;
    const double ease = t * t * (3 - 2 * t);
    const double x = std::lerp(from.x, to.x, t), y = std::lerp(from.y, to.y, ease);
    lower.push_back({x, y});
    upper.push_back({x, y + thickness});
  }
  page.area(lower, upper, paler(colour, 0.62));
}

// All amounts of a page in the unit that suits the whole of them.
std::string joules(double energy, double total) {
  const bool small = total < 1;
  return fmt::format("{:.{}f} {}", (small ? 1e3 : 1) * energy,
                     (small ? 1e3 : 1) * total < 10    ? 3
                     : (small ? 1e3 : 1) * total < 100 ? 2
                                                       : 1,
                     small ? "mJ" : "J");
}

std::string per_cent(double share) {
  return share < 0.001 ? std::string("< 0.1 %")
                       : fmt::format("{:.{}f} %", 100 * share, share < 0.0995 ? 1 : 0);
}

void draw_group_words(Page& page, const Group& group, double low, double high,
                      const std::string& energy, double x) {
  page.line({{x, low}, {x + 6, low}, {x + 6, high}, {x, high}},
            {.colour = group.colour, .width = 1.8});
  const double y = 0.5 * (low + high);
  const Colour words = deeper(group.colour, 0.3);
  page.text({x + 16, y + 10}, group.name, {.size = 16, .colour = words, .bold = true});
  page.text({x + 16, y - 11}, energy, {.size = 16, .colour = words});
}

// From the source at the left to every sink at the right.
void draw_flows(Page& page, const StoredRun& run, std::vector<Item> items, const Box& box) {
  // Shares are those of the report: of what the source gave.
  double total = 0, given = 0;
  for (const Item& item : items) {
    total += item.energy;
    given += item.group == stays ? 0 : item.energy;
  }
  const double scale = scale_for(items, total, box.height);
  // Room for the longest name of a sink.
  constexpr double bar = 20, names = 14, numbers = 412, shares = 480, bracket = 494;
  const double sinks_left = box.x + 255;
  const Box source{box.x + 130, box.y + 0.5 * (box.height - scale * total), bar, scale * total};
  double y = box.top();
  for (std::size_t n = 0; n < items.size(); ++n) {
    y -= n > 0 && items[n].group != items[n - 1].group ? group_gap : 0;
    const double thickness = scale * items[n].energy;
    const double slot = std::max(thickness, smallest_slot);
    items[n].bar = {sinks_left, y - 0.5 * (slot + thickness), bar, thickness};
    y -= slot + item_gap;
  }
  double from = source.top();
  for (const Item& item : items) {
    from -= item.bar.height;
    draw_flow(page, {source.right(), from}, {item.bar.x, item.bar.y}, item.bar.height,
              groups[item.group].colour);
  }
  page.rectangle(source, palette::ink);
  const bool bank = scalar_of(run, "ledger_stored_before").value_or(0) > 0;
  const Point middle_left{source.x - 14, source.centre().y};
  const TextStyle head{.size = 16, .bold = true, .align = Align::right};
  page.text({middle_left.x, middle_left.y + 24}, bank ? "Stored before" : "Given by", head);
  page.text({middle_left.x, middle_left.y + 3}, bank ? "the pulse" : "the source", head);
  page.text({middle_left.x, middle_left.y - 22}, joules(total, total),
            {.size = 18, .align = Align::right});
  for (const Item& item : items) {
    const Box slot = item.bar;
    page.rectangle({slot.x, slot.y, slot.width, std::max(slot.height, 1.0)},
                   groups[item.group].colour);
    const double middle = slot.centre().y;
    page.text({slot.right() + names, middle}, item.name,
              {.size = 15, .room = numbers - names - 76});
    page.text({slot.right() + numbers, middle}, joules(item.energy, total),
              {.size = 16, .align = Align::right});
    if (item.group != stays)
      page.text({slot.right() + shares, middle}, per_cent(item.energy / given),
                {.size = 15, .colour = palette::quiet_ink, .align = Align::right});
  }
  for (std::size_t g = 0; g < std::size(groups); ++g) {
    double low = box.top(), high = box.y - box.height, energy = 0;
    for (const Item& item : items) {
      if (item.group == g) {
        low = std::min({low, item.bar.y, item.bar.centre().y - 11});
        high = std::max({high, item.bar.top(), item.bar.centre().y + 11});
        energy += item.energy;
      }
    }
    if (energy > 0) {
      draw_group_words(page, groups[g], low, high, joules(energy, total),
                       sinks_left + bar + bracket);
    }
  }
}

// What became of the energy delivered to one spot, layer upon layer.
Panel energy_panel(const StoredRun& run) {
  Panel panel = panel_of(run, "Energy delivered to one spot [J]",
                         {{"energy_stored", "in metal and cell", palette::vermillion, 0, 2},
                          {"energy_out", "conducted away", palette::blue, 0, 2},
                          {"energy_expelled", "sparks", palette::purple, 0, 2}});
  panel.stacked = true;
  std::erase_if(panel.curves, [](const drawing::Curve& curve) { return !rises_above_zero(curve); });
  return panel;
}

// Integral over time by the trapezium rule, from the start to every step.
std::vector<double> integral(const std::vector<double>& time, const std::vector<double>& rate) {
  std::vector<double> sums(time.size(), 0);
  for (std::size_t n = 1; n < time.size(); ++n) {
    sums[n] = sums[n - 1] + 0.5 * (rate[n] + rate[n - 1]) * (time[n] - time[n - 1]);
  }
  return sums;
}

// What became of the energy that the source has given so far, in the colours of the flows. What the
// leads' field holds for the moment counts as lost on the way, where it ends up.
Panel loop_panel(const StoredRun& run) {
  const std::vector<double>& time = series_of(run, "time");
  const std::vector<double>& current = series_of(run, "current");
  const std::vector<double>& source = series_of(run, "source_voltage");
  const std::vector<double>& load = series_of(run, "load_voltage");
  Panel panel{.title = "Energy given by the source [J]", .abscissa = time, .stacked = true};
  if (current.empty() || source.empty() || load.empty()) {
    return panel;
  }
  std::vector<double> into_spots, on_the_way;
  for (std::size_t n = 0; n < time.size(); ++n) {
    into_spots.push_back(load[n] * current[n]);
    on_the_way.push_back((source[n] - load[n]) * current[n]);
  }
  into_spots = integral(time, into_spots);
  on_the_way = integral(time, on_the_way);
  // Sparks are stored for the judged spot, and for the other one where they differ; the ledger
  // knows how many spots there are.
  std::vector<double> sparks = series_of(run, "energy_expelled");
  if (const auto& other = series_of(run, "other_energy_expelled"); other.size() == sparks.size()) {
    std::transform(sparks.begin(), sparks.end(), other.begin(), sparks.begin(), std::plus<>());
  }
  const double expelled = scalar_of(run, "ledger_expelled").value_or(0);
  if (expelled > 1e-4 * into_spots.back() && !sparks.empty() && sparks.back() > 0) {
    const double spots = expelled / sparks.back();
    for (std::size_t n = 0; n < sparks.size(); ++n) {
      sparks[n] *= spots;
      into_spots[n] -= sparks[n];
    }
  } else {
    sparks.clear();
  }
  panel.curves.push_back({"spots", into_spots, {.colour = palette::vermillion, .width = 2}});
  if (!sparks.empty()) {
    panel.curves.push_back({"sparks", std::move(sparks), {.colour = palette::purple, .width = 2}});
  }
  panel.curves.push_back({"on the way", on_the_way, {.colour = palette::blue, .width = 2}});
  return panel;
}

}  // namespace

Page energy_picture(const StoredRun& run) {
  const std::vector<Item> items = items_of(run);
  const std::vector<double>& time = series_of(run, "time");
  if (items.empty() && time.size() < 2) {
    throw PictureError("the result holds no energy to draw");
  }
  Page page(page_width, page_height);
  draw_head_and_foot(
      page, run, "Where the energy goes",
      items.empty() ? "over time" : "whole loop at the left, over time at the right");
  double left = page_margin;
  if (!items.empty()) {
    draw_flows(page, run, items, {page_margin, body_bottom + 24, 880, body_top - body_bottom - 74});
    left = 1005;
  }
  constexpr double axis_room = 62, below = 56, between = 92;
  const double bottom = body_bottom + below, top = body_top - 24;
  const double width = page_width - page_margin - left - axis_room - 150;
  const double height = 0.5 * (top - bottom - between);
  if (time.size() > 1) {
    if (const Panel loop = loop_panel(run); !loop.curves.empty()) {
      draw_panel(page, loop, pulse_axis(run),
                 {left + axis_room, bottom + height + between, width, height}, true);
    }
    if (const Panel energy = energy_panel(run); !energy.curves.empty()) {
      draw_panel(page, energy, heat_axis(run), {left + axis_room, bottom, width, height}, true);
    }
  }
  return page;
}

}  // namespace tabmelt::pictures
