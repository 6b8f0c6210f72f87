using System.Text.Json;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Calls;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Bench;

/// <summary>One tap, as the page sends it. The id is made by the page and kept until the answer came, so a tap is never lost nor done twice.</summary>
public sealed record Tap
{
    public Guid Command { get; init; }

    /// <summary><c>receive, start, finish, startBatch, finishBatch, stopBatch, dropBatch, scanIn, scanOut, build, release, giveBack, handOver, makeTest, makeAnother, keepReading, worksAgain, see, putOff, undo</c>.</summary>
    public string Move { get; init; } = "";
    public string Code { get; init; } = "";
    public int? Step { get; init; }
    public int? Count { get; init; }

    /// <summary>The state of those of a tray that the page showed together.</summary>
    public PieceState? Group { get; init; }

    /// <summary>Whether their step ran.</summary>
    public bool? Runs { get; init; }
    public string? Other { get; init; }

    /// <summary>Those of a tray or a batch that were chosen one by one.</summary>
    public IReadOnlyList<string>? Codes { get; init; }
    public string? Station { get; init; }
    public string? Plan { get; init; }

    /// <summary>At Tape: the text of the print that a single piece gets.</summary>
    public string? Text { get; init; }
    public string? Reason { get; init; }
    public decimal? Celsius { get; init; }
    public bool AtSignal { get; init; }
    public bool OnlyScanned { get; init; }
    public bool CanEmpty { get; init; }

    /// <summary>The station is hot, whatever is computed.</summary>
    public bool IsHot { get; init; }

    /// <summary>The station is broken for so many hours.</summary>
    public int? BrokenHours { get; init; }
    public int? SecondsAgo { get; init; }
    public int? Minutes { get; init; }
    public TimeDecision? Decision { get; init; }

    /// <summary>Decisions about single members of a batch, by the code of the piece.</summary>
    public IReadOnlyDictionary<string, TimeDecision>? Each { get; init; }
    public Guid? Undo { get; init; }

    /// <summary>Who was signed in when it was tapped.</summary>
    public Guid? Worker { get; init; }

    /// <summary>When it was tapped, by the server's clock as the page knows it: milliseconds since 1970.</summary>
    public long? TappedAt { get; init; }

    internal Target Target => new(Code, Step, Count, Group, Runs, Codes);

    internal Ended? End =>
        AtSignal ? new Ended(AtSignal: true)
        : SecondsAgo is { } ago ? new Ended(AtSignal: false, ago)
        : At is { } tapped ? new Ended(AtSignal: false, 0, tapped)
        : null;

    /// <summary>The instant of the tap; null where there is none, or none that there can be.</summary>
    internal DateTimeOffset? At =>
        TappedAt is { } tapped && tapped >= First && tapped <= Last ? DateTimeOffset.FromUnixTimeMilliseconds(tapped) : null;

    private static readonly long First = DateTimeOffset.MinValue.ToUnixTimeMilliseconds();
    private static readonly long Last = DateTimeOffset.MaxValue.ToUnixTimeMilliseconds();
}

/// <summary>
/// Taps and camera frames by plain HTTP, beside the circuit: gloves tap where the network is weak, and what was tapped is kept by the
/// page and sent again under the same id until it is answered.
/// </summary>
public static class BenchEndpoint
{
    public static void MapBench(this IEndpointRouteBuilder app)
    {
        var bench = app.MapGroup("/bench").RequireAuthorization(Policies.Bench);
        bench.MapPost("/moves", MoveAsync).WithMetadata(new RequestSizeLimitAttribute(64_000));
        bench.MapGet("/find", FindAsync);
        bench.MapGet("/photos/{code}/{photo:guid}", PhotoView.SendAsync);
        bench.MapPost("/frame", FrameAsync).WithMetadata(new RequestSizeLimitAttribute(2_000_000));
    }

    private static async Task<IResult> MoveAsync(HttpContext context, BenchMoves moves, IAntiforgery antiforgery, Spoken said)
    {
        if (!await antiforgery.IsRequestValidAsync(context) || WorkerClaim.IdOf(context.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        Tap? tap;
        try
        {
            tap = await JsonSerializer.DeserializeAsync<Tap>(context.Request.Body, JsonForms.Default, context.RequestAborted);
        }
        catch (JsonException)
        {
            return Results.BadRequest();
        }
        if (tap is null || tap.Command == Guid.Empty)
            return Results.BadRequest();
        // What somebody else tapped waits on the device for them.
        if (tap.Worker is { } of && of != worker)
            return Results.StatusCode(StatusCodes.Status409Conflict);
        // Once it is here it is carried out, even when the phone has lost the line again: the answer waits under the command's id.
        var result = await moves.RunAsync(Asked.By(worker, tap.Command), tap, CancellationToken.None);
        return Results.Json(
            new
            {
                ok = result.IsOk,
                command = tap.Command,
                text = result.IsOk ? said[result.Value.Text] : string.Join(" ", said.Of(result.Refusals).Select(r => r.Text)),
                batch = result.IsOk ? result.Value.Batch : null,
                refusals = said.Of(result.Refusals),
            },
            JsonForms.Default,
            // It cannot be written just now: the page keeps the tap and sends it again.
            statusCode: CannotWrite.Is(result.Refusals) ? StatusCodes.Status503ServiceUnavailable : null
        );
    }

    // Whoever scans what calls is on it: the page then says so for them.
    private static async Task<IResult> FindAsync(
        string? code,
        FindByCode codes,
        FindOrder orders,
        CallsView calls,
        Spoken said,
        CancellationToken cancel
    )
    {
        var found = await codes.ReadAsync(code, cancel);
        // What is the code of nothing may be an order's number, or a customer's name.
        if (!found.IsOk && await orders.AnyAsync(code, cancel))
            return Results.Json(
                new
                {
                    code = (string?)null,
                    to = $"bench/orders?q={Uri.EscapeDataString(code!.Trim())}",
                    text = "",
                },
                JsonForms.Default
            );
        return found.IsOk
            ? Results.Json(
                new
                {
                    code = found.Value.Code,
                    text = "",
                    calls = await calls.UnseenAsync(found.Value.Code, cancel),
                },
                JsonForms.Default
            )
            : Results.Json(new { code = (string?)null, text = said[found.Refusals[0].Text] }, JsonForms.Default);
    }

    private static async Task<IResult> FrameAsync(HttpContext context, IAntiforgery antiforgery)
    {
        if (!await antiforgery.IsRequestValidAsync(context))
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        using var frame = new MemoryStream();
        await context.Request.Body.CopyToAsync(frame, context.RequestAborted);
        var read = QrReader.Read(frame.ToArray());
        return Results.Json(new { code = read.IsOk ? read.Value : null, text = read.IsOk ? "" : read.Refusals[0].Text }, JsonForms.Default);
    }
}

/// <summary>Leads a tap to its use case.</summary>
public sealed class BenchMoves(IServiceProvider services) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Tap tap, CancellationToken cancel) =>
        tap.Move switch
        {
            "receive" => Case<ReceivePieces>().RunAsync(asked, tap.Target, cancel),
            "start" => Case<StartStep>()
                .RunAsync(asked, new StartWish(tap.Target, tap.Station, tap.Other, tap.Decision, tap.Each, tap.At, tap.IsHot), cancel),
            "finish" => Case<FinishStep>()
                .RunAsync(asked, new FinishWish(tap.Target, null, tap.Celsius, tap.End, tap.Decision, tap.Text), cancel),
            "startBatch" => Case<StartBatch>()
                .RunAsync(asked, new StartBatchWish(tap.Code, tap.OnlyScanned, tap.Decision, tap.Each, tap.At, tap.IsHot), cancel),
            "finishBatch" => Case<FinishBatch>()
                .RunAsync(asked, new FinishBatchWish(tap.Code, tap.Celsius, null, tap.End, tap.Decision, tap.Each), cancel),
            "stopBatch" => Case<StopBatch>()
                .RunAsync(asked, new StopBatchWish(tap.Code, tap.Reason ?? "", tap.CanEmpty, tap.Codes, tap.BrokenHours), cancel),
            "dropBatch" => Case<DropBatch>().RunAsync(asked, tap.Code, cancel),
            "scanIn" => Case<ScanIntoBatch>().RunAsync(asked, new ScanAtBatch(tap.Code, tap.Other ?? ""), cancel),
            "scanOut" => Case<ScanIntoBatch>().RunAsync(asked, new ScanAtBatch(tap.Code, tap.Other ?? "", Out: true), cancel),
            "build" => Case<BuildBatch>()
                .RunAsync(
                    asked,
                    new BatchWish(
                        tap.Codes ?? [tap.Code],
                        tap.Station,
                        null,
                        tap.Plan,
                        tap.Codes is null ? tap.Target : null,
                        IsThere: tap.Step is not null
                    ),
                    cancel
                ),
            "release" => Case<ReleasePieces>().RunAsync(asked, new WithReason(tap.Target, tap.Reason ?? "looked at and fine"), cancel),
            "giveBack" => Case<ReturnPieces>().RunAsync(asked, new WithReason(tap.Target, tap.Reason ?? ""), cancel),
            "handOver" => Case<HandOver>().RunAsync(asked, tap.Target, cancel),
            "makeTest" => Case<MakeTestPiece>().RunAsync(asked, tap.Target, cancel),
            "makeAnother" => Case<MakeAnother>().RunAsync(asked, tap.Target, cancel),
            "keepReading" => Case<KeepReading>().RunAsync(asked, new ReadingWish(tap.Code, tap.Celsius), cancel),
            "worksAgain" => Case<BringStationBack>().RunAsync(asked, tap.Code, cancel),
            "see" => Case<AnswerCall>().RunAsync(asked, new CallAnswer(tap.Code), cancel),
            "putOff" => Case<AnswerCall>().RunAsync(asked, new CallAnswer(tap.Code, tap.Minutes ?? 0, tap.Reason), cancel),
            "undo" => Case<UndoLast>().RunAsync(asked, new UndoWish(tap.Undo is null ? tap.Code : null, tap.Undo), cancel),
            _ => Task.FromResult<Result<Moved>>(new Refusal("move-unknown", "This page is out of date. Open it again.")),
        };

    private T Case<T>()
        where T : notnull => services.GetRequiredService<T>();
}
