using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Counter.Steps;

/// <summary>A line that takes a piece of the workshop: its size is the blank's, written with its unit so that no setting changes it.</summary>
public static class BlankMatch
{
    /// <summary>The line with that blank.</summary>
    public static LineEntry Fill(BlankChoice blank, LineEntry line)
    {
        var piece = blank.Piece;
        return line with
        {
            IsOwn = false,
            Blank = blank.Code,
            Material = piece.Material,
            Form = piece.Form,
            Face = piece.Face,
            Width = Text(piece.Width),
            Height = Text(piece.BoxHeight),
            Thickness = Text(piece.Thickness),
            Corner = Text(piece.Corner),
            Hole = Text(piece.Hole),
            Finish = line.Material == piece.Material ? line.Finish : null,
        };
    }

    /// <summary>The blank that the line has, of several with the same measures the one that was chosen; null: none of them.</summary>
    public static BlankChoice? Of(IEnumerable<BlankChoice> blanks, LineEntry line)
    {
        var fitting = blanks.Where(b => Is(b, line)).ToList();
        return fitting.Find(b => b.Code == line.Blank) ?? fitting.FirstOrDefault();
    }

    private static bool Is(BlankChoice blank, LineEntry line) =>
        line.IsOwn == false
        && line.Material == blank.Piece.Material
        && line.Face == blank.Piece.Face
        && line.Width == Text(blank.Piece.Width)
        && line.Height == Text(blank.Piece.BoxHeight)
        && line.Thickness == Text(blank.Piece.Thickness);

    private static string Text(Length length) => length > Length.Zero ? SizeEcho.Typed(length) : "";
}
