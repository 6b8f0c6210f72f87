namespace ShopFloor.Documents.Pdf;

/// <summary>A column of a table.</summary>
/// <param name="Heading">Printed at the top of each page.</param>
/// <param name="WidthMm">Width; the widths of all columns add up to the width of the table.</param>
/// <param name="Align">Where the text stands.</param>
public sealed record TableColumn(string Heading, double WidthMm, Align Align = Align.Left);

/// <summary>A row of a table.</summary>
/// <param name="Cells">One text a column; lines may be broken inside.</param>
/// <param name="Carry">What the row adds to the carried total.</param>
public sealed record TableRow(IReadOnlyList<string> Cells, decimal Carry = 0)
{
    /// <summary>Small quiet text below the widest cell, over the columns from <see cref="NoteColumn"/> on; empty for none.</summary>
    public string Note { get; init; } = "";

    /// <summary>Column at which the note begins.</summary>
    public int NoteColumn { get; init; } = 1;

    /// <summary>Stands out, with a line above: a total.</summary>
    public bool Strong { get; init; }
}

/// <summary>Makes the row of a carried total.</summary>
/// <param name="sum">Sum of <see cref="TableRow.Carry"/> so far.</param>
/// <param name="atFoot">True at the foot of a page (carried over), false at the top of the next (brought forward).</param>
public delegate TableRow CarryRow(decimal sum, bool atFoot);

/// <summary>A table that goes on over page ends, with its headings on each page.</summary>
public sealed record FlowTable(IReadOnlyList<TableColumn> Columns, IReadOnlyList<TableRow> Rows)
{
    /// <summary>Style of the cells.</summary>
    public TextStyle Style { get; init; } = TextStyle.Body.At(9);

    /// <summary>
    /// The row printed where the table breaks; null for none.
    /// </summary>
    public CarryRow? CarryRow { get; init; }

    /// <summary>A hairline below each row.</summary>
    public bool Ruled { get; init; } = true;

    /// <summary>Room that must be left below the last row on its page, such as for totals that follow.</summary>
    public double TailMm { get; init; }
}
