#!/usr/bin/env pvpython
"""Shows a result of tabmelt in ParaView: the section with its temperature, the outline of the melt
(the nugget) and a time axis with current and nugget diameter.

    paraview --script=open_result.py          asks nothing: set TABMELT_RESULT to the result's folder
    pvpython open_result.py FOLDER PICTURE    draws the moment of the largest nugget into a PNG

FOLDER holds result.vtkhdf, result.xdmf and history.csv. ParaView 5.12 and later read result.vtkhdf
with all its moments; older ones read result.xdmf (Xdmf3 reader).
"""
import csv
import os
import sys

from paraview.simple import *  # noqa: F403

AMBIENT, ABOVE_MELTING = 293.15, 2000.0  # [K] ends of the colour scale


def reader_of(folder):
    """The reader that plays the moments in this version of ParaView."""
    version = GetParaViewVersion()
    if (version.major, version.minor) >= (5, 12):
        return VTKHDFReader(FileName=os.path.join(folder, "result.vtkhdf"))
    return Xdmf3ReaderS(FileName=[os.path.join(folder, "result.xdmf")])


def history(folder):
    with open(os.path.join(folder, "history.csv"), newline="") as file:
        return list(csv.DictReader(file))


def end_of_pulse(folder):
    """[s] when the current has sunk below a hundredth of its peak for good."""
    rows = history(folder)
    peak = max(abs(float(row["current [A]"])) for row in rows)
    return max(float(row["time [s]"]) for row in rows if abs(float(row["current [A]"])) > 0.01 * peak)


def time_of_largest_nugget(folder):
    """[s]; the middle of the list where nothing melted."""
    rows = history(folder)
    best = max(rows, key=lambda row: float(row["nugget_diameter [m]"]))
    if float(best["nugget_diameter [m]"]) <= 0:
        best = rows[len(rows) // 2]
    return float(best["time [s]"])


def show_section(source, view):
    """Temperature in the half section, ghost (empty) cells left out."""
    metal = Threshold(Input=source)
    metal.Scalars = ["CELLS", "region_id"]
    metal.LowerThreshold, metal.UpperThreshold = 1, 1e9
    shown = Show(metal, view)
    ColorBy(shown, ("CELLS", "temperature"))
    colours = GetColorTransferFunction("temperature")
    colours.RescaleTransferFunction(AMBIENT, ABOVE_MELTING)
    shown.SetScalarBarVisibility(view, True)
    return metal


def show_melt(metal, view):
    """Outline of where half of the metal is liquid."""
    points = CellDatatoPointData(Input=metal)
    melt = Contour(Input=points)
    melt.ContourBy = ["POINTS", "liquid_fraction"]
    melt.Isosurfaces = [0.5]
    shown = Show(melt, view)
    shown.ColorArrayName = ["POINTS", ""]
    shown.DiffuseColor = [0.0, 0.0, 0.0]
    shown.LineWidth = 3


def show_time_axis(folder, view):
    """Current over time, from history.csv."""
    table = CSVReader(FileName=[os.path.join(folder, "history.csv")])
    curve = PlotData(Input=table)
    shown = Show(curve, view)
    shown.UseIndexForXAxis = 0
    shown.XArrayName = "time [s]"
    shown.SeriesVisibility = ["current [A]"]
    view.BottomAxisUseCustomRange = 1
    view.BottomAxisRangeMinimum, view.BottomAxisRangeMaximum = 0, 1.5 * end_of_pulse(folder)
    view.BottomAxisTitle = "time [s]"
    view.LeftAxisTitle = "current [A]"


def main(folder, picture=None):
    source = reader_of(folder)
    source.UpdatePipeline()
    layout = CreateLayout("tabmelt")
    section = CreateView("RenderView")
    axis = CreateView("XYChartView")
    AssignViewToLayout(view=section, layout=layout, hint=0)
    layout.SplitVertical(0, 0.65)
    AssignViewToLayout(view=axis, layout=layout, hint=2)
    metal = show_section(source, section)
    show_melt(metal, section)
    show_time_axis(folder, axis)

    steps = list(source.TimestepValues)
    wanted = time_of_largest_nugget(folder)
    scene = GetAnimationScene()
    scene.UpdateAnimationUsingDataTimeSteps()
    scene.AnimationTime = min(steps, key=lambda step: abs(step - wanted))
    section.InteractionMode = "2D"
    Render(section)  # the first one chooses a camera of its own
    # r to the right, z upwards; some millimetres around the joint fill the view.
    section.CameraParallelProjection = 1
    section.CameraParallelScale = 1.2e-3
    section.CameraFocalPoint = [1.0e-3, 0.0, 0.0]
    section.CameraPosition = [1.0e-3, 0.0, 1.0]
    Render(section)
    if picture:
        layout.SetSize(1200, 1200)
        SaveScreenshot(picture, layout)
        print("moment", scene.AnimationTime, "of", len(steps), "in", picture)


if __name__ in ("__main__", "__vtkconsole__"):
    arguments = [word for word in sys.argv[1:] if not word.startswith("-")]
    folder = arguments[0] if arguments else os.environ.get("TABMELT_RESULT", ".")
    main(folder, arguments[1] if len(arguments) > 1 else None)
