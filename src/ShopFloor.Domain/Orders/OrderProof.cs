namespace ShopFloor.Domain.Orders;

/// <summary>Pictures after booking, their approval, and that they were printed.</summary>
public sealed partial class Order
{
    /// <summary>Asks for a proof.</summary>
    public void AskForProof() => Proof = ProofState.Waiting;

    /// <summary>Asks for a proof where something goes on an own piece that the customer has to see before.</summary>
    public void AskForProofOfOwn()
    {
        if (Lines.Any(l => l.AsksForProof()))
            AskForProof();
    }

    /// <summary>The customer's word on the proof, once for what is shown.</summary>
    public Result<Done> JudgeProof(bool approved, string note) =>
        Judge(approved ? ProofState.Approved : ProofState.ChangeWanted, note, [ProofState.Waiting]);

    /// <summary>The workshop approves the proof, also where the customer had wanted a change and it was spoken about.</summary>
    public Result<Done> ApproveProof(string note) => Judge(ProofState.Approved, note, [ProofState.Waiting, ProofState.ChangeWanted]);

    private Result<Done> Judge(ProofState to, string note, IReadOnlyList<ProofState> from)
    {
        if (CancelledAt is not null)
            return new Refusal("order-off", "This order was called off.");
        if (Proof == ProofState.NotNeeded)
            return new Refusal("proof-not-needed", "This order has nothing to approve.");
        if (PrintedAt is not null)
            return new Refusal("printed", "The transfers are printed already.");
        if (!from.Contains(Proof))
            return new Refusal("proof-judged", "The picture was judged already.");
        (Proof, ProofNote) = (to, note);
        Version++;
        return default(Done);
    }

    /// <summary>Puts a picture on a line, in place of an earlier one; on an own piece, or where one was judged before, it has to be approved.</summary>
    /// <param name="number">The line.</param>
    /// <param name="picture">The kept picture.</param>
    /// <param name="rights">That the customer may use it.</param>
    public Result<Done> Illustrate(int number, PictureId picture, Agreement rights)
    {
        if (CancelledAt is not null)
            return new Refusal("order-off", "This order was called off.");
        if (PrintedAt is not null)
            return new Refusal("printed", "The transfers are printed already.");
        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
            return new Refusal("line-missing", $"The order has no line {number}.", "line");
        line.Illustrate(picture);
        agreements =
        [
            .. agreements.Where(a => a.What != rights.What).SelectMany(a => a.AfterAnotherPicture(number, Lines.Select(l => l.Number))),
            rights,
        ];
        if (line.Piece.IsOwn || Proof != ProofState.NotNeeded)
            (Proof, ProofNote) = (ProofState.Waiting, "");
        Version++;
        return default(Done);
    }

    /// <summary>Refuses once it is too late to lay a picture anew.</summary>
    public Result<Done> MayLay() =>
        CancelledAt is not null ? new Refusal("order-off", "This order was called off.")
        : PrintedAt is not null ? new Refusal("printed", "The transfers are printed already.")
        : default(Done);

    /// <summary>Lays the picture of a line anew; what was judged before has to be judged again, and who was told of its sharpness was told of another size.</summary>
    /// <param name="number">The line.</param>
    /// <param name="seen">The picture that was laid; another may have taken its place meanwhile.</param>
    /// <param name="placement">How it lies.</param>
    public Result<Done> Lay(int number, PictureId seen, PictureOnFace placement)
    {
        var may = MayLay();
        if (!may.IsOk)
            return may;
        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
            return new Refusal("line-missing", $"The order has no line {number}.", "line");
        if (line.Picture != seen)
            return new Refusal("picture-other", "Another picture has taken its place meanwhile. Look at that one first.");
        var laid = placement with { LightLetters = line.Placement.LightLetters };
        if (laid == line.Placement)
            return default(Done);
        line.Lay(laid);
        agreements = [.. agreements.SelectMany(a => a.AfterAnotherPicture(number, Lines.Select(l => l.Number)))];
        if (line.Piece.IsOwn || Proof != ProofState.NotNeeded)
            (Proof, ProofNote) = (ProofState.Waiting, "");
        Version++;
        return default(Done);
    }

    /// <summary>Refuses while the proof is open.</summary>
    public Result<Done> MayPrint() =>
        Proof is ProofState.Waiting or ProofState.ChangeWanted
            ? new Refusal("proof-open", $"The proof of order {Number} has to be approved before anything is printed.")
            : default(Done);

    /// <summary>Notes that the transfers were printed.</summary>
    public Result<Done> Printed(DateTimeOffset at)
    {
        var may = MayPrint();
        if (!may.IsOk)
            return may;
        PrintedAt = at;
        Version++;
        return default(Done);
    }
}
