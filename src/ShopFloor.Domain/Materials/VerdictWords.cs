namespace ShopFloor.Domain.Materials;

/// <summary>How the verdict on a booked line is kept. They stand in databases: never change one.</summary>
public static class VerdictWords
{
    /// <summary>Word of <see cref="Verdict.Take"/>.</summary>
    public const string Take = "take";

    /// <summary>Word of <see cref="Verdict.TestPiece"/>.</summary>
    public const string TestPiece = "test piece";

    /// <summary>The word of a verdict with which a line can be booked; what is not simply taken needs a test.</summary>
    public static string Of(Verdict verdict) => verdict == Verdict.Take ? Take : TestPiece;
}
