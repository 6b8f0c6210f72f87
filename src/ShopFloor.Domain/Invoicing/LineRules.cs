namespace ShopFloor.Domain.Invoicing;

/// <summary>Rules on the lines of a document (BG-25).</summary>
internal static class LineRules
{
    public static IEnumerable<Refusal> Check(InvoiceDraft draft)
    {
        if (draft.Lines.DistinctBy(l => l.Id, StringComparer.Ordinal).Count() != draft.Lines.Count)
            yield return new("line-id-twice", "Two lines have the same number.", nameof(draft.Lines));
        foreach (var refusal in draft.Lines.SelectMany(Check))
            yield return refusal;
    }

    private static IEnumerable<Refusal> Check(InvoiceLine line)
    {
        var field = $"Lines[{line.Id}]";
        if (string.IsNullOrWhiteSpace(line.Id))
            yield return new("BR-21", "Every line has a number.", field);
        if (line.Quantity == 0m || Math.Abs(line.Quantity) > 1_000_000_000m)
            yield return new("BR-22", $"Line {line.Id}: enter how many.", field);
        if (!UnitCodes.IsKnown(line.Unit))
            yield return new("BR-CL-23", $"Line {line.Id}: '{line.Unit}' is no unit that invoices know; a piece is H87.", field);
        if (string.IsNullOrWhiteSpace(line.Name) || line.Name.Length > 500)
            yield return new("BR-25", $"Line {line.Id}: say what it is, in up to 500 characters.", field);
        if (line.Price is < 0m or > 1_000_000_000m)
            yield return new(
                "BR-27",
                $"Line {line.Id}: a price is not negative. To take something off, make the quantity negative.",
                field
            );
        if (line.PriceQuantity <= 0m)
            yield return new("price-quantity", $"Line {line.Id}: the quantity that the price is for is above 0.", field);
        if (line.ListPrice < 0m)
            yield return new("BR-28", $"Line {line.Id}: a list price is not negative.", field);
        if (line.ListPrice is { } list && list - (line.PriceDiscount ?? 0m) != line.Price)
            yield return new("list-price", $"Line {line.Id}: the price is not the list price less its discount.", field);
        if (line.Description is { Length: > 5000 } || line.Properties.Any(p => p.Name.Length > 100 || p.Value.Length > 500))
            yield return new("text-too-long", $"Line {line.Id}: the description is too long.", field);
        if (line.Properties.Any(p => string.IsNullOrWhiteSpace(p.Name) || string.IsNullOrWhiteSpace(p.Value)))
            yield return new("BR-54", $"Line {line.Id}: a property has a name and a value.", field);
        foreach (var refusal in line.Adjustments.SelectMany(a => Check(a, line.Id, field)))
            yield return refusal;
    }

    private static IEnumerable<Refusal> Check(Adjustment change, string id, string field)
    {
        var name = change.IsCharge ? "charge" : "discount";
        if (string.IsNullOrWhiteSpace(change.Reason))
            yield return new(change.IsCharge ? "BR-44" : "BR-42", $"Line {id}: say what the {name} is for.", field);
        if (InvoiceRules.Rounded(change.Amount) != change.Amount || change.Amount < 0m)
            yield return new(
                change.IsCharge ? "BR-DEC-27" : "BR-DEC-24",
                $"Line {id}: a {name} is an amount of at least 0 in whole cents.",
                field
            );
    }
}
