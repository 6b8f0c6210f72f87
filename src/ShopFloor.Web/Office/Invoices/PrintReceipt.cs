using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Which receipt for a payment was printed.</summary>
public sealed record ReceiptWish(string Number);

/// <summary>Writes down that the receipt for a payment was printed, in the journal of all prints.</summary>
public sealed class PrintReceipt(CommandRunner runner) : IUseCase
{
    /// <summary>The word for it in the journal.</summary>
    public const string Kind = "Payment";

    /// <summary>Does it.</summary>
    public Task<Result<Printed>> RunAsync(Asked asked, ReceiptWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<ReceiptWish, Printed>(
            nameof(PrintReceipt),
            Allowed.Owner,
            asked,
            wish,
            async work => await PrintPaper.WriteDownAsync(work, $"{Kind} {wish.Number}", cancel),
            cancel
        );
}
