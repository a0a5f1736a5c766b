// The small drawings of a bench sheet: the layers as they are poured and the way of the wire, with marks in
// millimetres. Internal to the picture room.
#pragma once

#include "picture/bench_sheet.h"
#include "picture/pdf_page.h"

namespace foreslice::picture {

/// The poured layers with names, amounts and levels beside them, inside `area`.
void draw_pours(Paper& paper, const BenchSheet& sheet, const MmRect& area);
/// The way of the wire through pale layers, inside `area`. Returns the height used.
double draw_wire(Paper& paper, const BenchSheet& sheet, const BenchWire& wire, const MmRect& area);
/// A QR code with its quiet zone, `side_mm` wide.
void draw_qr(Paper& paper, const std::string& text, Vec2 corner, double side_mm);

}  // namespace foreslice::picture
