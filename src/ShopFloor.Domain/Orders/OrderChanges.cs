using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Orders;

/// <summary>Another number of pieces of a line, with the price that was shown for it.</summary>
/// <param name="Quantity">How many, at least 1.</param>
/// <param name="Texts">One for all pieces, one for each, or none.</param>
/// <param name="Price">For all of them.</param>
/// <param name="Deposit">What is asked for this line beforehand.</param>
public sealed record LineResize(int Quantity, IReadOnlyList<string> Texts, AgreedPrice Price, decimal Deposit);

/// <summary>What may be put right in a booked order, and what is taken out of it when its time is over.</summary>
public sealed partial class Order
{
    private static readonly Refusal Off = new("order-off", "This order was called off.");

    /// <summary>Puts the texts of a line right until they are on paper or on a piece. A proof that was judged has to be judged anew.</summary>
    /// <param name="number">The line.</param>
    /// <param name="texts">One for all pieces, one for each, or none.</param>
    /// <param name="pieces">The pieces of the line.</param>
    public Result<Done> Reword(int number, IReadOnlyList<string> texts, IEnumerable<Piece> pieces)
    {
        if (CancelledAt is not null)
            return Off;
        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
            return new Refusal("line-missing", $"The order has no line {number}.", "line");
        if (PrintedAt is not null)
            return new Refusal("printed", "The transfers are printed already: the text can no longer be changed.", "texts");
        if (pieces.Any(p => !p.IsTest && (p.IsBound || p.State.IsGood())))
            return new Refusal("text-used", "The text is on a piece already and can no longer be changed.", "texts");
        if (texts.Count > 1 && texts.Count != line.Quantity)
            return new Refusal(
                "texts",
                $"There are {texts.Count} texts for {line.Quantity} pieces: give one for each, or one for all.",
                "texts"
            );
        line.Reword(texts);
        LookAgain(line);
        Version++;
        return default(Done);
    }

    /// <summary>Puts right how the customer is reached about this order.</summary>
    public Result<Done> Reach(Contact contact)
    {
        if (CancelledAt is not null)
            return Off;
        var faults = Orders.Customer.ContactFaults(contact);
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        Contact = new Contact(contact.Name.Trim(), contact.Email.Trim(), contact.Phone.Trim());
        Version++;
        return default(Done);
    }

    /// <summary>Puts right the day the customer asks for.</summary>
    public Result<Done> Want(DateOnly? day)
    {
        if (CancelledAt is not null)
            return Off;
        wanted = day;
        Version++;
        return default(Done);
    }

    /// <summary>Makes it more or fewer pieces of a line.</summary>
    /// <param name="number">The line.</param>
    /// <param name="resize">How many, and their price.</param>
    /// <param name="pieces">The pieces of the line as they are now.</param>
    /// <param name="moves">What becomes of them.</param>
    public Result<Done> Resize(int number, LineResize resize, IReadOnlyList<Piece> pieces, LinePieces moves)
    {
        if (CancelledAt is not null)
            return Off;
        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
            return new Refusal("line-missing", $"The order has no line {number}.", "line");
        if (PrintedAt is not null && moves.New.Count > 0)
            return new Refusal(
                "printed",
                "The transfers of this order are printed already. Take what comes on top as an order of its own.",
                "quantity"
            );
        var staying = pieces.Where(LinePieces.IsThere).Except(moves.Back).ToList();
        if (TextFault(line, resize, staying) is { } fault)
            return fault;
        var isReworded = !resize.Texts.SequenceEqual(line.Texts, StringComparer.Ordinal);
        depositAsked = DepositWithout(line) + resize.Deposit;
        line.Resize(resize with { Price = resize.Price with { WithTax = AgreedWithTax ?? resize.Price.WithTax } });
        if (isReworded)
            LookAgain(line);
        Version++;
        return default(Done);
    }

    /// <summary>Leaves a line out, while another one stays.</summary>
    public Result<Done> LeaveOut(int number)
    {
        if (CancelledAt is not null)
            return Off;
        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
            return new Refusal("line-missing", $"The order has no line {number}.", "line");
        if (Lines.Count == 1)
            return new Refusal("last-line", "This is all that is ordered. To leave it out, call the order off.", "quantity");
        depositAsked = DepositWithout(line);
        line.LeaveOut();
        Version++;
        return default(Done);
    }

    /// <summary>The line's pieces are made by this recipe from now on.</summary>
    public void MakeBy(int number, RecipeId recipe, string verdict) => lines.Find(l => l.Number == number)?.MakeBy(recipe, verdict);

    /// <summary>The deposit less the line's share by price.</summary>
    private decimal DepositWithout(OrderLine line)
    {
        var all = lines.Sum(l => l.Price.Gross);
        return all == 0m ? 0m : DepositAsked - new Money(DepositAsked * line.Price.Gross / all, Currency).Rounded().Amount;
    }

    private Refusal? TextFault(OrderLine line, LineResize resize, List<Piece> staying)
    {
        var texts = resize.Texts;
        if (texts.Count > 1 && texts.Count != resize.Quantity)
            return new Refusal(
                "texts",
                $"There are {texts.Count} texts for {resize.Quantity} pieces: give one for each, or one for all.",
                "texts"
            );
        // The first piece has the first text, and so on.
        if (texts.Count > 1 && staying.Find(p => p is { IsBound: false } && p.Number > resize.Quantity) is { } beyond)
            return new Refusal(
                "text-places",
                $"Each text belongs to a piece by its number, and {beyond.Code} stays as number {beyond.Number}. Give that piece back first, or make another order.",
                "texts"
            );
        var isOnPaper = PrintedAt is not null || staying.Exists(p => p.IsBound || p.State.IsGood());
        return !isOnPaper || IsRest(texts, line)
            ? null
            : new Refusal(
                "text-used",
                "Texts are printed or on a piece already: take out those of the pieces left out, no others.",
                "texts"
            );
    }

    /// <summary>Whether only some texts were taken out: of own pieces, which have theirs by number, the last ones.</summary>
    private static bool IsRest(IReadOnlyList<string> texts, OrderLine line)
    {
        if (line.Piece.IsOwn || line.Texts.Count <= 1)
            return texts.SequenceEqual(line.Texts.Take(texts.Count), StringComparer.Ordinal) && (texts.Count > 0 || line.Texts.Count == 0);
        var left = line.Texts.ToList();
        return texts.All(left.Remove);
    }

    /// <summary>What was seen is no longer what would be printed; an own piece that gets its first text was not seen at all.</summary>
    private void LookAgain(OrderLine line)
    {
        if (Proof != ProofState.NotNeeded || line.AsksForProof())
            (Proof, ProofNote) = (ProofState.Waiting, "");
    }

    /// <summary>Takes out everything personal: the contact given for this order, the note, the answers, the reasons of discounts, and the texts on the pieces.</summary>
    public void Erase()
    {
        (Contact, Note, ProofNote) = (new Contact("Erased", "", ""), "", "");
        Questions = [];
        Discounts = [.. Discounts.Select(d => d with { Reason = "Discount" })];
        foreach (var line in lines)
            line.Erase();
        statusLinkHash = "";
        Version++;
    }

    /// <summary>Its pictures are no longer kept.</summary>
    public void ForgetPictures()
    {
        foreach (var line in lines)
            line.ForgetPicture();
        Version++;
    }

    /// <summary>A new secret status link takes the place of the old one, which stops to work.</summary>
    /// <param name="hash">SHA-256 of the new secret, hex.</param>
    public Result<Done> Relink(string hash)
    {
        if (statusLinkHash.Length == 0)
            return new Refusal("link-closed", "The customer's page of this order is closed for good.");
        statusLinkHash = hash;
        Version++;
        return default(Done);
    }

    /// <summary>The secret status link stops to work.</summary>
    public void CloseLink()
    {
        statusLinkHash = "";
        Version++;
    }
}
