using PdfSharp.Drawing;

namespace ShopFloor.Documents.Pdf;

/// <summary>A closed outline in millimetres, to draw, to fill or to clip with.</summary>
public abstract record Outline
{
    private Outline() { }

    /// <summary>The smallest upright box around it.</summary>
    public abstract RectMm Bounds { get; }

    /// <summary>An upright box.</summary>
    public sealed record Box(RectMm Area) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds => Area;

        internal override void AddTo(XGraphicsPath path) => path.AddRectangle(ToXRect(Area));
    }

    /// <summary>A box with round corners; the radius is cut down to half of the shorter side.</summary>
    public sealed record RoundedBox(RectMm Area, double RadiusMm) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds => Area;

        internal override void AddTo(XGraphicsPath path)
        {
            var diameter = PdfUnit.Points(Math.Min(2 * RadiusMm, Math.Min(Area.Width, Area.Height)));
            if (diameter <= 0)
                path.AddRectangle(ToXRect(Area));
            else
                AddRounded(path, ToXRect(Area), diameter);
        }

        private static void AddRounded(XGraphicsPath path, XRect area, double diameter) =>
            path.AddRoundedRectangle(area.X, area.Y, area.Width, area.Height, diameter, diameter);
    }

    /// <summary>An ellipse in a box; a disc when the box is a square.</summary>
    public sealed record Oval(RectMm Area) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds => Area;

        internal override void AddTo(XGraphicsPath path) => path.AddEllipse(ToXRect(Area));
    }

    /// <summary>An ellipse with a hole about the same middle.</summary>
    public sealed record OvalRing(RectMm Area, SizeMm Hole) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds => Area;

        internal override void AddTo(XGraphicsPath path)
        {
            path.AddEllipse(ToXRect(Area));
            if (Hole is not { Width: > 0, Height: > 0 })
                return;
            var middle = Area.Middle;
            path.AddEllipse(ToXRect(new RectMm(middle.X - Hole.Width / 2, middle.Y - Hole.Height / 2, Hole.Width, Hole.Height)));
        }
    }

    /// <summary>Straight lines from corner to corner, closed.</summary>
    public sealed record Corners(IReadOnlyList<PointMm> Points) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds
        {
            get
            {
                var (left, top) = (Points.Min(p => p.X), Points.Min(p => p.Y));
                return new RectMm(left, top, Points.Max(p => p.X) - left, Points.Max(p => p.Y) - top);
            }
        }

        internal override void AddTo(XGraphicsPath path) => path.AddPolygon([.. Points.Select(ToXPoint)]);
    }

    /// <summary>Many boxes at once, such as the dark modules of a QR code.</summary>
    public sealed record Boxes(IReadOnlyList<RectMm> Areas) : Outline
    {
        /// <inheritdoc />
        public override RectMm Bounds
        {
            get
            {
                var (left, top) = (Areas.Min(a => a.X), Areas.Min(a => a.Y));
                return new RectMm(left, top, Areas.Max(a => a.Right) - left, Areas.Max(a => a.Bottom) - top);
            }
        }

        internal override void AddTo(XGraphicsPath path)
        {
            foreach (var area in Areas)
                path.AddRectangle(ToXRect(area));
        }
    }

    internal abstract void AddTo(XGraphicsPath path);

    /// <summary>As a path; where two parts overlap there is a hole (even-odd rule).</summary>
    internal XGraphicsPath ToPath()
    {
        var path = new XGraphicsPath { FillMode = XFillMode.Alternate };
        AddTo(path);
        return path;
    }

    internal static XRect ToXRect(RectMm area) =>
        new(PdfUnit.Points(area.X), PdfUnit.Points(area.Y), PdfUnit.Points(area.Width), PdfUnit.Points(area.Height));

    internal static XPoint ToXPoint(PointMm point) => new(PdfUnit.Points(point.X), PdfUnit.Points(point.Y));
}
